"""The description of what is bought: the seller's terms."""

from __future__ import annotations

from barrowful.sitefile.keys.amounts import BY_VOLUME, MASS, MATERIAL_NAME, SOLD_STUFF, STUFF, VOLUME
from barrowful.sitefile.language.containers import Field, Group
from barrowful.sitefile.language.kinds import Choice, Duration, Flag, Words
from barrowful.sitefile.language.money import Cash, PriceFor
from barrowful.sitefile.language.quantity import Measure
from barrowful.sitefile.language.rules import text_asks_for

DROP_AT = Words(200)

BUY = Group(
    title="Way: buy",
    rules=tuple(text_asks_for("price", f"/ *{word} *$", word) for word in ("bag", "load")),
    fields=(
        Field("material", MATERIAL_NAME, help="What is bought.", example="green compost", required=True),
        Field(
            "price",
            PriceFor(("bag", "load")),
            help="Price for a volume, a mass, a bag or a load.",
            example="46 EUR/m3",
            required=True,
        ),
        Field("bag", STUFF, help="What one bag holds, by volume or mass.", example="40 L"),
        Field("load", BY_VOLUME, help="What one load holds.", example="10 m3"),
        Field("whole_loads", Flag(), help="Are only whole loads brought?", example="true", default="true"),
        Field("step", STUFF, help="The seller's step; orders are rounded up to it.", example="0.5 m3"),
        Field("minimum", STUFF, help="The least the seller brings.", example="2 m3"),
        Field("delivery", Cash(), help="Cost of each trip.", example="55 EUR", default=""),
        Field("truck", VOLUME, help="What one trip can bring, by volume.", example="8 m3"),
        Field("payload", MASS, help="What one trip can carry, by mass.", example="600 kg"),
        Field(
            "box", VOLUME, help="Volume of your own trailer or truck bed, when you collect.", example="1.5 m3"
        ),
        Field(
            "trip",
            Measure("hours", least="0 h", most="24 h"),
            help="Time of one round when you collect, there and back; loading is added.",
            example="45 min",
        ),
        Field(
            "tax",
            Measure("share", least="0 %", most="100 %"),
            help="Tax on price and delivery.",
            example="20 %",
        ),
        Field(
            "tax_included",
            Flag(),
            help="Do price and delivery, as you give them, hold the tax already?",
            example="true",
            default="false",
        ),
        Field("lead", Duration(zero=True), help="From ordering to delivery.", example="2 weeks"),
        Field(
            "left",
            SOLD_STUFF,
            help="What is left of what came before the start; it goes on before more is ordered.",
            example="18 kg",
        ),
        Field(
            "drop",
            Choice(("yard", "road", "pavement")),
            help="Where it is tipped: on your own ground (yard), or on public ground.",
            example="yard",
            default="yard",
        ),
        Field("drop_at", DROP_AT, help="The place, in your words.", example="by the lower gate"),
        Field("seller", Words(60), help="Who sells it; ways of one share deliveries.", example="Quarry yard"),
        Field("origin", Words(200), help="Where it comes from, as the seller says.", example="local trees"),
        Field(
            "notes", Words(400), help="Anything to remember about the seller.", example="ring the day before"
        ),
    ),
)
