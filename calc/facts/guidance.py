"""The guidance among the sources: what fire services, safety authorities and workshop standards tell those who do the work."""

from __future__ import annotations

from calc.facts.cited import Provenance, Source

GUIDANCE: dict[str, Source] = {
    "wyfs-lithium": Source(
        "West Yorkshire Fire and Rescue Service",
        "Lithium-ion batteries: key safety messages",
        "read November 2026",
        "West Yorkshire fire service",
        provenance=Provenance.READ,
    ),
    "nfpa-smoke-alarms": Source(
        "NFPA",
        "Smoke alarms at home: where they hang, tested every month",
        "advice after NFPA 72, read in a reprint in November 2026",
        "NFPA on smoke alarms",
        provenance=Provenance.SECOND_HAND,
    ),
    "dft-premises-2024": Source(
        "UK Department for Transport",
        "E-cycle and e-scooter batteries: managing fire risk for premises",
        "1 February 2024, read in part",
        "UK DfT",
        provenance=Provenance.READ,
    ),
    "hse-indg139": Source(
        "UK Health and Safety Executive",
        "INDG139: Using electric storage batteries safely",
        "read November 2026",
        "HSE INDG139",
        provenance=Provenance.READ,
    ),
    "hse-solder": Source(
        "UK Health and Safety Executive",
        "Advice for solderers: fume of rosin flux and asthma",
        "read November 2026",
        "HSE on solder fume",
        provenance=Provenance.READ,
    ),
    "bba-2018": Source(
        "British Burn Association",
        "First aid guidelines: burns",
        "April 2018, read in a reprint",
        "British Burn Association",
        provenance=Provenance.SECOND_HAND,
    ),
    "navy-14329": Source(
        "US Navy",
        "NAVEDTRA 14329: maintenance and testing of lead-acid batteries, acid on skin and in eyes",
        "read November 2026",
        "US Navy 14329",
        provenance=Provenance.READ,
    ),
    "nasa-8739-4": Source(
        "NASA",
        "NASA-STD-8739.4 with change 6: 4.3 crimping of tinned strands, 9.8 heat-shrink sleeve, 19.2 and 19.6 soldered splices",
        "1998, changed 2011",
        "NASA-STD-8739.4",
        provenance=Provenance.READ,
    ),
    "iso-7010": Source(
        "ISO",
        "ISO 7010: safety signs. M002 refer to the booklet, W001 general warning, W021 flammable material",
        "edition not known to us",
        "ISO 7010",
        provenance=Provenance.MEMORY,  # No text that lists the signs by number could be found.
    ),
}
