"""Reads a scenario folder: site.csv, pump.csv, demand.csv, profile.csv, supply.csv.  SI inside.

A reader of its own, not the program's; only the defaults of items are taken from the program's
list of items, since they are data of the contract and not part of the model.  It trusts its input:
faulty files are the business of the program's own tests.
"""

import csv
import re
import subprocess
from functools import lru_cache
from pathlib import Path

PROGRAM = Path(__file__).resolve().parents[2] / "build" / "pumpday"

PSI = 0.45359237 * 9.80665 / 0.0254**2
GALLON = 231 * 0.0254**3
FOOT = 0.3048
WATER_COLUMN = 1000 * 9.80665  # Pa per m of water

UNITS = {
    "pressure": {
        "pa": 1.0, "kpa": 1e3, "mpa": 1e6, "mbar": 100.0, "bar": 1e5, "psi": PSI,
        "m": WATER_COLUMN, "ft": WATER_COLUMN * FOOT,
    },
    "length": {"mm": 1e-3, "cm": 1e-2, "m": 1.0, "km": 1e3, "in": 0.0254, "ft": FOOT},
    "area": {"mm2": 1e-6, "cm2": 1e-4, "m2": 1.0, "ft2": FOOT**2, "in2": 0.0254**2},
    "flow": {
        "m3/s": 1.0, "m3/h": 1 / 3600, "m3/day": 1 / 86400, "l/s": 1e-3, "l/min": 1e-3 / 60,
        "l/h": 1e-3 / 3600, "gpm": GALLON / 60, "gal/min": GALLON / 60, "gal/h": GALLON / 3600,
        "gph": GALLON / 3600, "gal/day": GALLON / 86400, "l/day": 1e-3 / 86400,
    },
    "volume": {"m3": 1.0, "l": 1e-3, "ml": 1e-6, "gal": GALLON, "ft3": FOOT**3},
    "power": {"w": 1.0, "kw": 1e3, "hp": 550 * 0.45359237 * 9.80665 * FOOT},
    "time": {"ms": 1e-3, "s": 1.0, "min": 60.0, "h": 3600.0},
    "capacity": {
        "m2/s": 1.0, "m3/s/m": 1.0, "m3/h/m": 1 / 3600, "l/s/m": 1e-3, "l/min/m": 1e-3 / 60,
        "gpm/ft": GALLON / 60 / FOOT,
    },
}

# items that the model uses and what they measure; "number" and "choice" carry no unit
KINDS = {
    "site.altitude": "length", "water.temperature": "temperature", "energy.standby": "power",
    "demand.reference_pressure": "pressure", "supply.kind": "choice",
    "supply.pressure": "pressure", "supply.level": "length", "supply.area": "area",
    "supply.offset": "pressure", "supply.reducing_valve": "pressure",
    "supply.refill": "flow", "supply.empty_level": "length",
    "supply.specific_capacity": "capacity", "well.casing_diameter": "length",
    "well.loss": "length", "well.loss_flow": "flow", "pump.height": "length",
    "rising_main.length": "length", "rising_main.diameter": "length",
    "rising_main.roughness": "length", "rising_main.loss_k": "number", "service.length": "length",
    "service.diameter": "length", "service.roughness": "length", "service.loss_k": "number",
    "check_valve.diameter": "length", "check_valve.opening_pressure": "pressure",
    "check_valve.loss_k": "number", "check_valve.leak_by": "flow", "pump.run_up_time": "time",
    "pump.stopped_loss": "pressure", "tank.volume": "volume", "tank.gas": "choice",
    "tank.exponent": "number", "tank.time_constant": "time", "tank.precharge": "pressure",
    "tank.gas_loss": "pressure", "tank.months": "number",
    "house.elevation": "length", "house.loss": "pressure", "house.loss_flow": "flow",
    "house.pipe_length": "length", "house.pipe_diameter": "length", "house.pipe_wall": "length",
    "house.pipe_modulus": "pressure", "house.leak": "flow", "house.leak_pressure": "pressure",
    "house.leak_exponent": "number", "pressure_start.start": "pressure",
    "pressure_start.stop_flow": "flow", "pressure_start.stop_pressure": "pressure",
    "pressure_start.run_on": "time", "pressure_start.precharge": "pressure",
    "flow_start.start_flow": "flow", "flow_start.stop_flow": "flow", "flow_start.run_on": "time",
    "flow_start.precharge": "pressure", "peak_only.start": "pressure",
    "peak_only.stop_flow": "flow", "peak_only.stop_pressure": "pressure",
    "peak_only.run_on": "time", "peak_only.precharge": "pressure",
    "guard.low_suction": "pressure", "guard.delay": "time", "guard.retry": "time",
    "guard.dry_run_time": "time", "guard.least_rest": "time", "day.warm_up": "time",
}

UNITS["pressure"]["gpa"] = 1e9


def to_si(text, unit, kind):
    """One value with its unit in SI; a choice stays a word."""
    if kind == "choice":
        return text
    value = float(text)
    if kind == "number":
        return value
    unit = unit.strip().lower()
    if kind == "temperature":
        return {"degc": value + 273.15, "degf": (value + 459.67) / 1.8, "k": value}[unit]
    return value * UNITS[kind][unit]


def rows_of(path):
    """Rows of a CSV file as dictionaries, heads without their units, and the units of the heads."""
    with open(path, encoding="utf-8-sig", newline="") as stream:
        lines = [line for line in stream if line.strip() and not line.startswith("#")]
    table = [[cell.strip() for cell in row] for row in csv.reader(lines)]
    heads, units = [], {}
    for head in table[0]:
        name, unit = re.fullmatch(r"([^\[]*?)\s*(?:\[(.*)\])?", head).groups()
        heads.append(name)
        units[name] = unit
    return [dict(zip(heads, row)) for row in table[1:]], units


def seconds(clock, unit=None):
    """HH:MM[:SS], or a number in a unit, as seconds after midnight."""
    if unit:
        return to_si(clock, unit, "time")
    parts = [float(part) for part in clock.split(":")] + [0.0]
    return 3600 * parts[0] + 60 * parts[1] + parts[2]


@lru_cache
def program_defaults(program=PROGRAM):
    """Defaults of items that are plain numbers, in SI, as the program's list of items has them."""
    text = subprocess.run(
        [str(program), "items", "--csv"], check=True, capture_output=True, text=True
    ).stdout
    defaults = {"tank.gas": "thermal"}
    for row in csv.DictReader(text.splitlines()):
        number = re.fullmatch(r"([-+.\deE]+)(?: (\S+))?", row["default"])
        if number and row["item"] in KINDS:
            defaults[row["item"]] = to_si(number[1], number[2] or "", KINDS[row["item"]])
    return defaults


class Scenario:
    """All of a folder.  `get` gives an item in SI, or None where it is to be worked out."""

    def __init__(self, folder, overrides=(), defaults=None):
        folder = Path(folder)
        self.items = dict(program_defaults() if defaults is None else defaults)
        for row in rows_of(folder / "site.csv")[0]:
            self.put(row["item"], row["value"], row.get("unit") or "")
        for override in overrides:
            item, value = override.split("=", 1)
            self.put(item.strip(), *value.split(None, 1))
        self.read_pump(folder / "pump.csv")
        self.read_draws(folder / "demand.csv")
        self.profile = self.read_series(folder / "profile.csv", {"flow": "flow"})[1]
        self.supply_head, self.supply = self.read_series(
            folder / "supply.csv", {"pressure": "pressure", "level": "length"}
        )

    def put(self, item, value, unit=""):
        """Takes a value with its unit; items that the model does not use are passed over."""
        kind = KINDS.get(item)
        if kind and value:
            self.items[item] = to_si(value, unit, kind)

    def get(self, item):
        return self.items.get(item)

    def read_pump(self, path):
        rows, units = rows_of(path)
        self.flows = [to_si(row["flow"], units["flow"], "flow") for row in rows]
        self.heads = [to_si(row["head"], units["head"], "length") for row in rows]
        self.powers = [to_si(row["power"], units["power"], "power") for row in rows]

    def read_draws(self, path):
        """Draws (time, flow, duration or None, volume or None) by time; ties keep their order."""
        self.draws = []
        if not path.exists():
            return
        rows, units = rows_of(path)
        for row in rows:
            duration, volume = row.get("duration"), row.get("volume")
            self.draws.append((
                seconds(row["time"], units["time"]),
                to_si(row["flow"], units["flow"], "flow"),
                to_si(duration, units["duration"], "time") if duration else None,
                to_si(volume, units["volume"], "volume") if volume else None,
            ))
        self.draws.sort(key=lambda draw: draw[0])

    @staticmethod
    def read_series(path, heads):
        """The head of the values and (time, value) pairs; None and () where there is no file."""
        if not path.exists():
            return None, ()
        rows, units = rows_of(path)
        head = next(name for name in heads if name in units)
        return head, tuple(
            (seconds(row["time"], units["time"]), to_si(row[head], units[head], heads[head])) for row in rows
        )
