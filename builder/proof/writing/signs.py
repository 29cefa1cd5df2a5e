"""Safety signs by number and title, after ISO 7010:2019.

The drawings of the standard are copyrighted; only numbers and titles stand here. Most were read in an open package of
drawings; those marked as from memory were not looked up, and want a look at the standard before they are relied on.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Sign:
    """A sign's number, its title, and whether the pair is from memory."""

    number: str
    title: str
    from_memory: bool = False


_TABLE = (
    Sign("M001", "General mandatory action sign", from_memory=True),
    Sign("M002", "Refer to instruction manual"),
    Sign("M003", "Wear ear protection"),
    Sign("M004", "Wear eye protection"),
    Sign("M008", "Wear safety footwear"),
    Sign("M009", "Wear protective gloves"),
    Sign("M011", "Wash your hands", from_memory=True),
    Sign("M016", "Wear a mask"),
    Sign("M021", "Disconnect before carrying out maintenance or repair"),
    Sign("M057", "Ensure continuous ventilation"),
    Sign("P001", "General prohibition sign", from_memory=True),
    Sign("P003", "No open flame; Fire, open ignition source and smoking prohibited"),
    Sign("P010", "Do not touch"),
    Sign("P028", "Do not wear gloves"),
    Sign("W001", "General warning sign"),
    Sign("W010", "Low temperature"),
    Sign("W012", "Electricity", from_memory=True),
    Sign("W017", "Hot surface"),
    Sign("W018", "Automatic start-up"),
    Sign("W021", "Flammable material"),
    Sign("W022", "Sharp element"),
    Sign("W023", "Corrosive substance", from_memory=True),
    Sign("W024", "Crushing of hands"),
    Sign("W025", "Counterrotating rollers"),
    Sign("W026", "Battery charging"),
    Sign("W029", "Pressurized cylinder"),
    Sign("W035", "Falling objects"),
)
SIGNS: Mapping[str, Sign] = {sign.number: sign for sign in _TABLE}
