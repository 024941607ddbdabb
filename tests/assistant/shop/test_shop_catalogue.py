"""The catalogue: the sample, every way to break one, and files made to do harm.

`base_catalogue.toml` is sound; each entry of `broken_catalogues.toml` is one change to it and all that `check` says then.
"""

from __future__ import annotations

import os
import random
import re
import string
import tomllib
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from assistant.shop import CatalogueError, check, load
from assistant.shop import catalogue as catalogue_module
from assistant.shop.catalogue import SAMPLE
from assistant.shop.entries import Break, Pack, Product
from assistant.shop.limits import Limits, limits
from assistant.shop.mistakes import Mistake, kinds, quoted

HERE = Path(__file__).parent
BASE = (HERE / "base_catalogue.toml").read_text(encoding="utf-8")
BROKEN: list[dict[str, Any]] = tomllib.loads((HERE / "broken_catalogues.toml").read_text(encoding="utf-8"))["broken"]
SHIPPED = Path(catalogue_module.__file__).parent / SAMPLE

Write = Callable[[str | bytes], Path]


@pytest.fixture
def write(tmp_path: Path) -> Write:
    def put(text: str | bytes) -> Path:
        path = tmp_path / "shop.toml"
        path.write_bytes(text.encode() if isinstance(text, str) else text)
        return path

    return put


def said(path: Path, mistakes: list[Mistake]) -> list[str]:
    assert all(one.file == str(path) for one in mistakes)
    return [str(one).removeprefix(str(path)).removeprefix(" ") for one in mistakes]


# ---- sound ones ------------------------------------------------------------------------------------------


def test_the_sample_is_sound_and_says_that_it_is_a_sample() -> None:
    assert check(SHIPPED) == []
    sample = load()
    assert sample.is_sample and sample is load(None)
    assert not load(SHIPPED).is_sample
    assert load(SHIPPED).model_copy(update={"is_sample": True}) == sample


def test_the_sample_is_worth_showing() -> None:
    sample = load()
    castings = [one for one in sample.packs if sample.product(one.product).kind == "castings"]
    assert 5 <= len(castings) <= 8
    assert {one.kind for one in sample.products} == {"castings", "blend"}
    assert any(one.bulk and one.size.unit == "cubic_yard" for one in castings)
    assert {one.size.by_weight for one in castings} == {True, False}
    assert any(one.breaks for one in castings) and any(one.stock is not None for one in castings)


def test_a_sound_file_as_it_is_read(write: Write) -> None:
    path = write(BASE)
    assert check(path) == []
    shop = load(path)
    assert (shop.shop.name, shop.currency.code, shop.is_sample) == ("Quillet Corner", "GBP", False)
    assert shop.tax is not None and shop.tax.rule == (Decimal(20), True) and not shop.tax.shown
    assert [one.id for one in shop.packs] == ["bag-10", "bag-20", "loose"]
    bag = shop.pack("bag-20")
    assert bag.price == Decimal("12.50") and str(bag.price) == "12.50"
    assert [(one.start, one.each) for one in bag.breaks] == [(4, Decimal("11.75")), (10, Decimal("11.00"))]
    assert (bag.stock, bag.least, bag.step) == (30, 2, 1)
    assert (shop.pack("loose").stock, shop.pack("loose").step) == (Decimal("7.5"), Decimal("0.5"))
    assert shop.product("castings").density.kilograms_a_litre == Fraction(3, 5)
    # 30 lb a cubic foot by hand: 30 × 0.45359237 / 28.316846592.
    assert float(shop.product("blend").density.kilograms_a_litre) == pytest.approx(0.480554, abs=5e-7)
    with pytest.raises(KeyError):
        shop.pack("bag-30")
    with pytest.raises(KeyError):
        shop.product("sand")


def test_optional_tables_and_fields_can_be_left_out(write: Write) -> None:
    text = re.sub(r"\[tax\].*?(?=\[product)", "", BASE, flags=re.DOTALL)
    for line in ["moisture = 45\n", "stock = 30\n", "least = 2\n", "stock = 7.5\n"]:
        text = text.replace(line, "")
    shop = load(write(re.sub(r"breaks = .*\n", "", text)))
    assert shop.tax is None and shop.product("castings").moisture is None
    assert (shop.pack("bag-20").breaks, shop.pack("bag-20").stock, shop.pack("bag-20").least) == ((), None, None)


@pytest.mark.parametrize(
    ("change", "to"),
    [
        ("amount = 20,", "amount = 20.0,"),
        ("amount = 20,", 'amount = "20",'),
        ('price = "9.00"', 'price = "9"'),
        ('price = "9.00"', 'price = "9.000"'),
        ("stock = 30", "stock = 0"),
        ("stock = 30", "stock = 30.0"),
        ("least = 2", "least = 1"),
        ('step = "0.5"', "step = 1\n"[:-1]),
        ('bulk = { step = "0.5" }\nstock = 7.5', "stock = 7"),
        ('name = "Quillet Corner"', 'name = "Ångström & Söhne — Gärtnerei"'),
    ],
)
def test_other_ways_to_write_it_are_sound(write: Write, change: str, to: str) -> None:
    assert BASE.count(change) == 1
    text = BASE.replace(change, to)
    if to.startswith("step"):
        text = text.replace("stock = 7.5", "stock = 7")
    assert check(write(text)) == []


def test_nothing_handed_out_can_be_changed() -> None:
    sample = load()
    for entry in (sample, sample.shop, sample.packs[0], sample.packs[0].size, sample.products[0]):
        with pytest.raises(ValidationError, match="frozen"):
            entry.name = "other"


# ---- mistakes --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("case", BROKEN, ids=[one["why"] for one in BROKEN])
def test_a_mistake_is_said(write: Write, case: dict[str, Any]) -> None:
    change = case["change"].removeprefix("\n")
    assert BASE.count(change) == 1, "the change must be possible in one place"
    path = write(BASE.replace(change, case["to"].removeprefix("\n")))
    mistakes = check(path)
    assert said(path, mistakes) == case["says"]
    with pytest.raises(CatalogueError) as raised:
        load(path)
    assert list(raised.value.mistakes) == mistakes


def test_every_kind_of_mistake_is_made_here() -> None:
    """The kinds that the data file has, with those of the tests below it, are all there are."""
    of_the_file = {
        "file-missing", "file-not-plain", "file-unreadable", "file-too-large", "file-empty", "file-not-utf8",
        "file-byte-order-mark", "line-too-long", "nested-too-deeply", "figure-too-long", "no-entries", "too-many",
    }  # fmt: skip
    told = [line.split(": ", 1)[1] for case in BROKEN for line in case["says"]]
    patterns = {
        kind: re.compile(re.sub(r"\\{\w+\\}", ".*", re.escape(f"{wrong} ({would_help})".replace("{{", "{").replace("}}", "}"))))
        for kind, (wrong, would_help) in kinds().items()
    }
    made = {kind for kind, pattern in patterns.items() if any(pattern.fullmatch(line) for line in told)}
    assert made | of_the_file == set(kinds())
    assert len(made) >= 40
    assert len({(wrong, would_help) for wrong, would_help in kinds().values()}) == len(kinds())


def test_every_mistake_of_a_file_is_said_not_only_the_first(write: Write) -> None:
    text = BASE
    for change, to in [
        ('currency = "GBP"', 'currency = "QQQ"'),
        ("rate = 20", "rate = 200"),
        ("moisture = 45", "moisture = 0.45"),
        ("castings = 25", "castings = 0"),
        ("amount = 20,", "amount = -20,"),
        ('price = "12.50"', "price = 12.50"),
        ("least = 2", "least = 0"),
        ('price = "9.00"', 'prise = "9.00"'),
        ('product = "blend"', 'product = "blond"'),
        ("stock = 7.5", "stock = 7.3"),
    ]:
        assert text.count(change) == 1
        text = text.replace(change, to)
    found = [(one.entry, one.field, one.kind) for one in check(write(text))]
    assert found == [
        ("shop", "currency", "currency-unknown"),
        ("tax", "rate", "tax-unlikely"),
        ("product.castings", "moisture", "moisture-unlikely"),
        ("product.blend", "castings", "share-unlikely"),
        ("pack.bag-20", "size.amount", "figure-not-positive"),
        ("pack.bag-20", "price", "money-not-quoted"),
        ("pack.bag-20", "least", "least-too-low"),
        ("pack.bag-10", "prise", "field-unknown"),
        ("pack.bag-10", "price", "field-missing"),
        ("pack.loose", "stock", "count-off-step"),
        ("pack.loose", "product", "product-unknown"),
    ]


def one_kind(path: Path) -> str:
    (mistake,) = check(path)
    assert (mistake.file, mistake.field) == (str(path), "")
    with pytest.raises(CatalogueError, match=re.escape(mistake.wrong)):
        load(path)
    return f"{mistake.kind}: {mistake.wrong}"


def test_files_that_are_not_there(tmp_path: Path) -> None:
    assert one_kind(tmp_path / "none.toml") == "file-missing: there is no such file"
    (tmp_path / "plain").write_text("x")
    assert one_kind(tmp_path / "plain" / "below.toml") == "file-missing: there is no such file"
    folder = "file-not-plain: it is not a file with text in it, but a folder, a device or a pipe"
    assert one_kind(tmp_path) == folder
    os.mkfifo(tmp_path / "pipe")
    assert one_kind(tmp_path / "pipe") == folder
    assert one_kind(Path("/dev/zero")) == folder
    assert one_kind(tmp_path / ("x" * 300)) == "file-unreadable: it cannot be read: File name too long"
    assert check(Path("no\0thing"))[0].wrong == "it cannot be read: its path cannot be used"
    assert check(Path("no\0thing"))[0].file == "no\\u0000thing"


def test_files_that_are_not_catalogues(write: Write) -> None:
    assert one_kind(write("")) == one_kind(write("# nothing but this\n")) == "file-empty: there is nothing in it"
    assert one_kind(write(BASE.encode() + b"\n# caf\xe9\n")).startswith("file-not-utf8: line ")
    assert one_kind(write(b"\n\n\xff\n")) == "file-not-utf8: line 3 is not UTF-8 text"
    assert one_kind(write(BASE.encode("utf-16"))) == "file-not-utf8: line 1 is not UTF-8 text"
    assert one_kind(write(b"\xef\xbb\xbf" + BASE.encode())).startswith("file-byte-order-mark: ")
    assert one_kind(write(b"\x00" * 100)).startswith("not-toml: ")
    assert one_kind(write(b"\x7fELF\x02\x01")).startswith("not-toml: ")


def test_catalogues_with_nothing_to_sell(write: Write) -> None:
    shop = '[shop]\nname = "Quillet"\ncurrency = "GBP"\n'
    kinds_found = [(one.kind, one.wrong) for one in check(write(shop))]
    assert kinds_found == [("no-entries", "there is not one product in it"), ("no-entries", "there is not one pack in it")]


def test_files_made_to_do_harm(write: Write) -> None:
    most = limits().file_bytes
    assert one_kind(write(b"#" * (most + 1))) == f"file-too-large: it is larger than a catalogue may be ({most} bytes)"
    assert one_kind(write("a." * 300 + "a = 1")) == "line-too-long: line 1 is longer than 500 characters"
    assert one_kind(write("q = [\n" + ("[" * 400 + "\n") * 50 + "]" * 400)).startswith("nested-too-deeply: ")
    assert one_kind(write(BASE.replace("stock = 30", "stock = 1e" + "9" * 30))).startswith("figure-too-long: ")
    packs = "".join(f"[pack.p{number}]\n" for number in range(limits().packs))
    assert [one.kind for one in check(write(BASE + packs))] == ["too-many"]


@pytest.mark.parametrize(
    "value", ["0x" + "f" * 400, "1e-99999999", "-1e99999999", "1" * 400, "1979-05-27", "[]", "{}", "[[[1]]]", "''"]
)
@pytest.mark.parametrize(
    "change", ["amount = 20", "stock = 30", "least = 2", "from = 4", "rate = 20", "moisture = 45", "castings = 25"]
)
def test_odd_values_are_refused_in_words(write: Write, change: str, value: str) -> None:
    assert BASE.count(change) == 1
    mistakes = check(write(BASE.replace(change, change.split("=")[0] + "= " + value)))
    assert mistakes
    for one in mistakes:
        assert one.wrong.isprintable() and one.help.isprintable() and len(one.wrong) < 200


PIECES = ["=", '"', "[", "]", "{", "}", ",", ".", "\n", "#", "0", "-", "e9", "nan", "true", "\\u001b", "litre", "pack", "é", " "]


@settings(max_examples=300, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_any_edit_is_read_or_refused_in_words(tmp_path_factory: pytest.TempPathFactory, seed: int) -> None:
    """Random edits of a sound file: never a traceback, never half a catalogue, nothing that a terminal obeys."""
    chance = random.Random(seed)
    text = BASE
    for _ in range(chance.randint(1, 4)):
        at, length = chance.randrange(len(text)), chance.choice([0, 0, 1, 2, 8])
        text = text[:at] + chance.choice([*PIECES, chance.choice(string.printable)]) + text[at + length :]
    path = tmp_path_factory.getbasetemp() / "edited.toml"
    path.write_text(text, encoding="utf-8", newline="")
    mistakes = check(path)
    for one in mistakes:
        assert str(one).isprintable(), one
        assert one.kind in kinds()
    if mistakes:
        with pytest.raises(CatalogueError):
            load(path)
    else:
        assert load(path).packs


# ---- the models by themselves ----------------------------------------------------------------------------


def test_an_entry_made_by_hand_is_held_to_the_same() -> None:
    sound = {
        "id": "x", "name": "x", "product": "castings", "size": {"amount": 1, "unit": "litre"}, "price": "1.00",
    }  # fmt: skip
    assert Pack.model_validate(sound).step == 1
    for wrong in [
        {"breaks": [{"from": 3, "each": "1.00"}]},
        {"stock": Decimal("1.5")},
        {"least": 4, "breaks": [{"from": 3, "each": "0.90"}]},
        {"price": 1.0},
        {"price": Decimal(1)},
        {"odd": 1},
    ]:
        with pytest.raises(ValidationError):
            Pack.model_validate(sound | wrong)
    with pytest.raises(ValidationError):
        Break.model_validate({"start": 3, "each": "1.00"})
    with pytest.raises(ValidationError):
        Product.model_validate(
            {"id": "x", "name": "x", "kind": "blend", "what": "x", "density": {"value": 1, "unit": "kilogram / litre"}}
        )


def test_the_bounds_are_figures() -> None:
    assert all(isinstance(value, int | float) and value > 0 for value in limits())
    assert set(limits()._asdict()) == set(Limits._fields)


@pytest.mark.parametrize(
    ("value", "text"),
    [("a\x1b[31mb", "“a\\u001b[31mb”"), ("x" * 100, "“" + "x" * 40 + "…”"), (True, "true"), ([1], "a list"), ({}, "a table"),
     (-3, "-3"), (Decimal("1E+9"), "1E+9")],
)  # fmt: skip
def test_values_of_a_file_are_shown_short_and_plain(value: object, text: str) -> None:
    assert quoted(value) == text


def test_a_figure_too_long_to_print_is_not_printed() -> None:
    assert quoted(16**5000) == "so long a figure"
