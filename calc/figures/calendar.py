"""Days of the calendar as numbers, counted from the first of March of year 0: so a leap day is the last of its year. Python's own module for it
would lengthen every start by what nothing else here needs.
"""

from __future__ import annotations

import re

_ERA_YEARS, _ERA_DAYS = 400, 146_097
# The days before each month, from March on.
_BEFORE = (0, 31, 61, 92, 122, 153, 184, 214, 245, 275, 306, 337)
_LENGTHS = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December")

_DATE = re.compile(r"([0-9]{4})[-/. ]([0-9]{1,2})[-/. ]([0-9]{1,2})")


def day_number(year: int, month: int, day: int) -> int | None:
    """Return the number of a day, or None where there is no such day.

    >>> day_number(2024, 3, 1) - day_number(2024, 2, 28), day_number(2023, 2, 29)
    (2, None)
    """
    if not 1 <= month <= len(_LENGTHS) or not 1 <= day <= _LENGTHS[month - 1]:
        return None
    if (month, day) == (2, 29) and (year % 4 != 0 or (year % 100 == 0 and year % _ERA_YEARS != 0)):
        return None
    from_march = year if month >= 3 else year - 1
    return from_march * 365 + from_march // 4 - from_march // 100 + from_march // _ERA_YEARS + _BEFORE[(month - 3) % 12] + day - 1


def date_of(number: int) -> tuple[int, int, int]:
    """Return the year, the month and the day of a number.

    >>> date_of(day_number(2026, 5, 3))
    (2026, 5, 3)
    """
    era, day = divmod(number, _ERA_DAYS)
    year = min((day - day // 1460 + day // 36_524 - day // 146_096) // 365, _ERA_YEARS - 1)
    day -= year * 365 + year // 4 - year // 100
    place = max(place for place, before in enumerate(_BEFORE) if before <= day)
    month = (place + 2) % 12 + 1
    return era * _ERA_YEARS + year + (month <= 2), month, day - _BEFORE[place] + 1


def day_of_text(text: str) -> float | None:
    """Return the number of a day that is typed with its year first, or None for what is no such day: 3/5/26 is two days.

    >>> day_of_text("2026-05-03") == day_number(2026, 5, 3), day_of_text("3/5/26"), day_of_text("2023-02-29")
    (True, None, None)
    """
    date = _date_typed(text)
    number = day_number(*date) if date else None
    return None if number is None else float(number)


def no_such_day(text: str) -> str:
    """Return what is wrong with a day that is typed with its year first and is not in the calendar, as a sentence goes on; else nothing.

    >>> no_such_day("2023-02-29"), no_such_day("2024-02-29"), no_such_day("2024-04-31"), no_such_day("2024-13-01")
    ('2023 has no 29 February', '', 'there is no 31 April', 'there is no month 13')
    """
    date = _date_typed(text)
    if date is None or day_number(*date) is not None:
        return ""
    year, month, day = date
    if not 1 <= month <= len(_LENGTHS):
        return f"there is no month {month}"
    where = f"{year} has" if (month, day) == (2, 29) else "there is"
    return f"{where} no {day} {_MONTHS[month - 1]}"


def _date_typed(text: str) -> tuple[int, int, int] | None:
    typed = _DATE.fullmatch(text)
    return (int(typed[1]), int(typed[2]), int(typed[3])) if typed else None


def day_in_figures(number: float) -> str:
    """Return a day as it is typed.

    >>> day_in_figures(day_number(2026, 5, 3))
    '2026-05-03'
    """
    year, month, day = date_of(round(number))
    return f"{year:04}-{month:02}-{day:02}"


def day_in_words(number: float) -> str:
    """Return a day as it is said.

    >>> day_in_words(day_number(2026, 5, 3))
    '3 May 2026'
    """
    year, month, day = date_of(round(number))
    return f"{day} {_MONTHS[month - 1]} {year}"
