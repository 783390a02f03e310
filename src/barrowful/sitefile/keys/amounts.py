"""The kinds of amounts that keys of several sections take."""

from __future__ import annotations

from barrowful.sitefile.language.kinds import Number
from barrowful.sitefile.language.lists import SetOf
from barrowful.sitefile.language.names import MaterialName
from barrowful.sitefile.language.quantity import Measure, Stuff
from barrowful.sitefile.language.sellers import SellersStuff

VOLUME = Measure("volume", least="1 cm3", most="100000 m3")
BY_VOLUME = Stuff(("volume",), least="1 cm3", most="100000 m3")
BY_MASS = Stuff(("mass",), least="1 g", most="1000000 kg")
STUFF = Stuff(least="1 cm3", most="100000 m3")
SOLD_STUFF = SellersStuff(least="1 cm3", most="100000 m3")
#: As sold, or nothing at all.
DONE_STUFF = SellersStuff(most="100000 m3", zero=True)
MASS = Measure("mass", least="1 g", most="1000000 kg")
MONTHS = SetOf(Number(1, 12, whole=True), 1, 12)
MATERIAL_NAME = MaterialName(60)
