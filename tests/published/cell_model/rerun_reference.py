"""Run the reference library live and hold its charges and discharges against the frozen ones.

Not part of the standard tests: the library takes about 790 MB and this command some minutes. It needs the extra
`reference` of pyproject.toml, and then

    python -m tests.published.cell_model.rerun_reference Ai2020 Prada2013

for some sets, or for all of them where none is named. It ends with an error where a run differs by more than 1 %.
"""

from __future__ import annotations

import os
import sys

# The library reports its use over the network unless it is told not to, before it is imported.
os.environ["PYBAMM_DISABLE_TELEMETRY"] = "true"

import pybamm

from tests.published.cell_model.reference import FINE_RESTING, RUNS, SETS, Run, percent_off

_AGREED_PERCENT = 1.0
_THINNER = 0.2


def _parameters(set_name: str) -> pybamm.ParameterValues:
    """The published set, with its 0 % and 100 % voltages, and cut-offs too wide to end a run early."""
    published = SETS[set_name].get("resting", set_name)
    parameters = pybamm.ParameterValues(published)
    resting = FINE_RESTING[published]
    parameters.update(
        {
            "Open-circuit voltage at 0% SOC [V]": resting[0],
            "Open-circuit voltage at 100% SOC [V]": resting[-1],
            "Lower voltage cut-off [V]": resting[0] - 0.5,
            "Upper voltage cut-off [V]": resting[-1] + 0.3,
        },
        check_already_exists=False,
    )
    if published != set_name:
        _thin(parameters)
    return parameters


def _thin(parameters: pybamm.ParameterValues) -> None:
    """Electrodes and particles of a fifth of the size, five times as many layers: the derived high-rate pack."""
    for electrode in ("Negative", "Positive"):
        for size in (f"{electrode} electrode thickness [m]", f"{electrode} particle radius [m]"):
            parameters[size] = parameters[size] * _THINNER
    layers = "Number of electrodes connected in parallel to make a cell"
    parameters[layers] = parameters[layers] / _THINNER


def _steps(run: Run) -> list[str]:
    """The run in the library's words."""
    if run.kind == "discharge":
        return [f"Discharge at {run.current_a} A until {run.until_cell_v} V"]
    taper_a = run.taper_rate_c * run.capacity_ah
    return [f"Charge at {run.current_a} A until {run.until_cell_v} V", f"Hold at {run.until_cell_v} V until {taper_a} A"]


def _minutes_and_ah(run: Run) -> tuple[float, float]:
    """What the library makes of the run today: minutes, and ampere-hours moved."""
    experiment = pybamm.Experiment([tuple(_steps(run))])
    simulation = pybamm.Simulation(pybamm.lithium_ion.DFN(), parameter_values=_parameters(run.set_name), experiment=experiment)
    solution = simulation.solve(initial_soc=run.start_state)
    moved_ah = solution["Discharge capacity [A.h]"].entries
    return float(solution["Time [min]"].entries[-1]), abs(float(moved_ah[-1] - moved_ah[0]))


def main(names: list[str]) -> int:
    """Print each run beside its frozen self; 1 where one differs, else 0."""
    unknown = [name for name in names if name not in SETS]
    if unknown:
        print(f"No such set: {', '.join(unknown)}. There are {', '.join(SETS)}.")
        return 2
    wanted = [run for run in RUNS if run.kind in ("charge", "discharge") and run.degc == 25.0 and run.set_name in (names or SETS)]
    differing = 0
    for run in wanted:
        time_min, moved_ah = _minutes_and_ah(run)
        off = max(percent_off(time_min, run.time_min), percent_off(moved_ah, run.capacity_ah_moved))
        differing += off > _AGREED_PERCENT
        print(f"{off:6.2f} %  {time_min:8.2f} min (frozen {run.time_min:8.2f})  {run}", flush=True)
    print(f"{len(wanted)} runs, {differing} differ by more than {_AGREED_PERCENT:g} %")
    return 1 if differing else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
