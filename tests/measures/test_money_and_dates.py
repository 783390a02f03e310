"""Money is exact; dates and steps are those of the calendar."""

from __future__ import annotations

import calendar
from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from functools import reduce
from operator import add
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.measures.dates import Step, date_after, read_date, read_step, years_between
from barrowful.measures.money import Price, currencies, read_currency, read_price, rounded
from barrowful.measures.problems import ParseError

QUICK = draws(150)
PRICE_CODES = {
    "not-money", "wrong-currency", "not-finite", "out-of-range", "too-many-digits", "leading-zero",
}  # fmt: skip
DAYS = st.dates(date(1900, 1, 1), date(2200, 12, 31))


def or_code(read: Callable[..., Any], *args: str) -> Any:
    """Give what a text is, or the code of its refusal; anything else is let through."""
    try:
        return read(*args)
    except ParseError as refusal:
        return refusal.code


@pytest.mark.parametrize(
    ("text", "amount", "per"),
    [
        ("46 EUR/m3", "46", "m3"),
        ("55 EUR", "55", ""),
        ("0.10 EUR/kg", "0.10", "kg"),
        ("4.50EUR / bag", "4.50", "bag"),
        ("12 EUR/load", "12", "load"),
        ("-5 EUR", "-5", ""),
        ("1e3 EUR", "1e3", ""),
        ("0.1 EUR/kg/m2", "0.1", "kg/m2"),
    ],
)
def test_price_is_read_exactly(text: str, amount: str, per: str) -> None:
    """A price keeps every digit that was written, and what it is for."""
    price = read_price(text, "EUR")
    assert price == Price(Decimal(amount), per)
    assert str(price.amount) == str(Decimal(amount))


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("46,50 EUR", "not-money"),
        ("EUR 46", "not-money"),
        ("46", "wrong-currency"),
        ("46 USD", "wrong-currency"),
        ("46 eur", "wrong-currency"),
        ("46 €", "wrong-currency"),
        ("46/m3", "wrong-currency"),
        ("1 000 EUR", "wrong-currency"),
        ("nan EUR", "not-money"),
        ("", "not-money"),
        ("007 EUR", "leading-zero"),
        ("1e400 EUR", "not-finite"),
        ("1234567890123456 EUR", "too-many-digits"),
        ("٣ EUR", "not-money"),
        ("46 EUR/", "not-money"),
        ("46 EUR /  ", "not-money"),
        ("46..5 EUR", "not-money"),
        ("46. EUR", "not-money"),
        ("1e15 EUR", "out-of-range"),
        ("1e30 EUR", "out-of-range"),
        ("-1e30 EUR", "out-of-range"),
    ],
)
def test_bad_price_is_refused(text: str, code: str) -> None:
    """Whatever is not a plain amount of the site's own currency is refused by its code."""
    with pytest.raises(ParseError) as refusal:
        read_price(text, "EUR")
    assert refusal.value.code == code


@draws(200)
@given(
    st.one_of(
        st.text(max_size=25), st.from_regex(r"[-+]?[0-9.,]{1,8} ?(EUR|USD)?(/[a-z0-9]{0,4})?", fullmatch=True)
    )
)
def test_any_text_is_a_price_or_refused(text: str) -> None:
    """Whatever is typed, the answer is a finite amount or a refusal."""
    price = or_code(read_price, text, "EUR")
    if isinstance(price, str):
        assert price in PRICE_CODES
    else:
        assert price.amount.is_finite()
        assert "EUR" in text


@QUICK
@given(st.lists(st.decimals(-99_999, 99_999, places=3), max_size=30))
def test_sums_of_prices_are_exact(amounts: list[Decimal]) -> None:
    """Reading and adding prices loses nothing against exact fractions."""
    read = [read_price(f"{amount:f} EUR", "EUR").amount for amount in amounts]
    assert Fraction(sum(read, Decimal(0))) == sum(map(Fraction, amounts), Fraction(0))


def test_ten_dimes_are_a_dollar() -> None:
    """Tenths add up, which they do not as floats."""
    dimes = [read_price("0.10 USD", "USD").amount] * 10
    assert sum(dimes) == Decimal(1)
    assert reduce(add, map(float, dimes)) != 1.0


@pytest.mark.parametrize(
    ("amount", "currency", "expected"),
    [
        ("2.345", "EUR", "2.35"),
        ("2.355", "EUR", "2.36"),
        ("2.3451", "EUR", "2.35"),
        ("-2.345", "EUR", "-2.35"),
        ("2", "EUR", "2.00"),
        ("2.5", "JPY", "3"),
        ("3.5", "JPY", "4"),
        ("99.5", "UGX", "100"),
        ("2.3455", "KWD", "2.346"),
        ("1e3", "KES", "1000.00"),
        ("1e30", "EUR", "1" + 30 * "0" + ".00"),
        ("1e308", "KWD", "1" + 308 * "0" + ".000"),
        ("1e-30", "EUR", "0.00"),
    ],
)
def test_rounding_is_to_the_smallest_coin(amount: str, currency: str, expected: str) -> None:
    """Sums are rounded to the currency's own places, halves up, and of what is owed the other way alike."""
    assert str(rounded(Decimal(amount), currency)) == expected


@QUICK
@given(st.decimals(-(10**9), 10**9, places=6), st.sampled_from(sorted(currencies())))
def test_rounding_is_never_more_than_half_a_coin_off(amount: Decimal, currency: str) -> None:
    """A rounded sum is whole coins, within half a coin, and stays when rounded again."""
    coin = Decimal(1).scaleb(-currencies()[currency])
    shown = rounded(amount, currency)
    assert shown % coin == 0
    assert abs(shown - amount) <= coin / 2
    assert rounded(shown, currency) == shown


def test_currencies() -> None:
    """The list has the world's codes by their number of places, each once."""
    places = currencies()
    assert {
        "EUR": 2,
        "USD": 2,
        "KES": 2,
        "GBP": 2,
        "JPY": 0,
        "UGX": 0,
        "XAF": 0,
        "KWD": 3,
    }.items() <= places.items()
    assert all(len(code) == 3 and code.isascii() and code.isupper() for code in places)
    assert set(places.values()) == {0, 2, 3}
    assert len(places) > 150
    assert read_currency("KES") == "KES"


@pytest.mark.parametrize(
    ("text", "hint"), [("eur", '"EUR"'), ("EURO", '"EUR"'), ("KSH", ""), ("", ""), ("$", "")]
)
def test_bad_currency_is_refused(text: str, hint: str) -> None:
    """A code that is not of ISO 4217 is refused, with the nearest one when there is one."""
    with pytest.raises(ParseError, match=hint or "ISO 4217") as refusal:
        read_currency(text)
    assert refusal.value.code == "unknown-currency"


@pytest.mark.parametrize(
    ("start", "step", "end"),
    [
        ("2027-01-31", Step(months=1), "2027-02-28"),
        ("2028-01-31", Step(months=1), "2028-02-29"),
        ("2028-02-29", Step(months=12), "2029-02-28"),
        ("2028-02-29", Step(months=48), "2032-02-29"),
        ("2096-02-29", Step(months=48), "2100-02-28"),
        ("2027-03-31", Step(months=1), "2027-04-30"),
        ("2027-12-31", Step(months=2), "2028-02-29"),
        ("2027-03-31", Step(months=-1), "2027-02-28"),
        ("2027-01-15", Step(months=-1), "2026-12-15"),
        ("2027-02-28", Step(days=1), "2027-03-01"),
        ("2028-02-28", Step(days=1), "2028-02-29"),
        ("2027-01-31", Step(months=1, days=1), "2027-03-01"),
        ("2027-03-01", Step(days=35), "2027-04-05"),
        ("2027-03-01", Step(), "2027-03-01"),
    ],
)
def test_step_is_of_the_calendar(start: str, step: Step, end: str) -> None:
    """A month is a month of the calendar, and the end of a short month holds."""
    assert step.after(read_date(start)) == read_date(end)


@QUICK
@given(DAYS, st.integers(-600, 600))
def test_months_keep_the_day_or_the_months_end(day: date, months: int) -> None:
    """So many months on, it is the same day of the month, or the last one where the month is shorter."""
    later = Step(months=months).after(day)
    assert (later.year - day.year) * 12 + later.month - day.month == months
    assert later.day == min(day.day, calendar.monthrange(later.year, later.month)[1])


@QUICK
@given(DAYS, st.integers(-5000, 5000), st.integers(-8, 8))
def test_days_add_up(day: date, days: int, count: int) -> None:
    """Days are days, and a step so many times over is so many steps."""
    assert Step(days=days).after(day) == day + timedelta(days)
    once = Step(months=3, days=2)
    assert once.times(count) == Step(3 * count, 2 * count)
    assert once.times(count).years == pytest.approx(count * once.years)


@pytest.mark.parametrize("step", [Step(months=12 * 9000), Step(months=-12 * 3000), Step(days=4_000_000)])
def test_step_beyond_the_calendar(step: Step) -> None:
    """A step that leaves the calendar overflows and does not wrap."""
    with pytest.raises(OverflowError):
        step.after(date(2027, 3, 1))


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("5 weeks", Step(days=35)),
        ("1 week", Step(days=7)),
        ("10 days", Step(days=10)),
        ("1.5 years", Step(months=18)),
        ("2 years", Step(months=24)),
        ("0.25 years", Step(months=3)),
        ("1 month", Step(months=1)),
        ("0.5 weeks", None),
        ("0 days", Step()),
        ("-1 month", Step(months=-1)),
    ],
)
def test_step_is_read(text: str, step: Step | None) -> None:
    """Whole days, weeks, months and years are read; what is no whole number of days or months is not."""
    if step is None:
        with pytest.raises(ParseError):
            read_step(text)
    else:
        assert read_step(text) == step


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("5", "bare-number"),
        ("5" + " " * 5000, "bare-number"),
        ("3. weeks", "not-a-number"),
        ("1 1/2 years", "spaced-number"),
        ("half a year", "not-a-number"),
        ("1.5 months", "not-a-duration"),
        ("0.1 years", "not-a-duration"),
        ("36 h", "not-a-duration"),
        ("5 kg", "not-a-duration"),
        ("1 fortnight", "not-a-duration"),
        ("1e200 years", "not-a-duration"),
        ("1e7 days", "not-a-duration"),
        ("1,5 years", "decimal-comma"),
        ("1 year 6 months", "compound"),
        ("1e400 days", "not-finite"),
        ("nan days", "not-a-number"),
    ],
)
def test_bad_step_is_refused(text: str, code: str) -> None:
    """A length of time that is not of the calendar is refused by its code."""
    with pytest.raises(ParseError) as refusal:
        read_step(text)
    assert refusal.value.code == code
    assert len(str(refusal.value)) < 200


@pytest.mark.parametrize(
    ("text", "day"), [("2027-03-01", date(2027, 3, 1)), ("2028-02-29", date(2028, 2, 29))]
)
def test_date_is_read(text: str, day: date) -> None:
    """Year, month, day."""
    assert read_date(text) == day


@pytest.mark.parametrize(
    "text",
    [
        "2027-02-29",
        "2027-02-30",
        "2027-13-01",
        "2027-00-10",
        "0000-01-01",
        "2027-3-1",
        "01.03.2027",
        "3/1/2027",
        "20270301",
        "2027-W09-1",
        "2027-03-01T00:00",
        "2027-03-01\n",
        " 2027-03-01",
        "٢٠٢٧-03-01",
        "today",
        "",
    ],
)
def test_bad_date_is_refused(text: str) -> None:
    """Any other order, any other sign and any day that is not in the calendar is refused."""
    with pytest.raises(ParseError) as refusal:
        read_date(text)
    assert refusal.value.code == "not-a-date"


@draws(200)
@given(
    st.one_of(
        st.text(max_size=15), st.from_regex(r"[0-9]{1,4}[-/.][0-9]{1,2}[-/.][0-9]{1,2}", fullmatch=True)
    )
)
def test_any_text_is_a_date_or_refused(text: str) -> None:
    """Whatever is typed, the answer is a date that prints as it was typed, or a refusal."""
    day = or_code(read_date, text)
    assert day == "not-a-date" or day.isoformat() == text


@QUICK
@given(DAYS, DAYS)
def test_years_between_turn_about(start: date, end: date) -> None:
    """Years back are minus the years there, and 1,461 days make four of them."""
    assert years_between(start, end) == -years_between(end, start)
    assert years_between(start, start + timedelta(1461)) == 4.0
    assert years_between(start, end) * 365.25 == pytest.approx((end - start).days)


@QUICK
@given(DAYS, st.floats(-20.0, 20.0))
def test_date_after_is_the_first_late_enough(start: date, years: float) -> None:
    """So many years on there is a first day that is late enough; the day before is not."""
    day = date_after(start, years)
    assert years_between(start, day) >= years - 1e-9
    assert years_between(start, day - timedelta(1)) < years + 1e-9
    assert (day >= start) is (years * 365.25 > -1 + 1e-7)


def test_whole_days_are_not_rounded_up() -> None:
    """A whole number of days, said in years, comes to that day, and a second more to the next."""
    start = date(2027, 1, 1)
    assert date_after(start, 13 / 365.25) == date(2027, 1, 14)
    assert date_after(start, 13 / 365.25 + 1 / (365.25 * 86400)) == date(2027, 1, 15)
    for days in range(-5000, 30_000):
        assert date_after(start, days / 365.25) == start + timedelta(days)
