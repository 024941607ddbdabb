"""The shop's catalogue: one TOML file, read whole or not at all.

`check` says every mistake of a file; `load` gives the catalogue, or raises with the same mistakes, so that
a wrong catalogue never gives an answer. With no file there is the sample catalogue of an invented shop.
"""

from __future__ import annotations

import re
import stat
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal, DecimalException
from functools import lru_cache
from importlib.resources import files
from pathlib import Path
from typing import Annotated, Any, Final, TypeVar

from pydantic import BaseModel, ConfigDict, TypeAdapter, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from . import money
from .entries import Break, Bulk, Density, Entry, Pack, Product, Shop, Size, Tax
from .limits import limits
from .mistakes import CatalogueError, Mistake, Problem, nearest, printable, problem, quoted
from .money import Currency

E = TypeVar("E", bound=Entry)
Fields = dict[str, Any]

SAMPLE: Final = "sample_catalogue.toml"
_KNOWN: Final = ("shop", "tax", "product", "pack")
#: The fields that are tables themselves.
_NESTED: Final[Mapping[str, type[Entry]]] = {"density": Density, "size": Size, "breaks": Break, "bulk": Bulk}
#: How many ids a message offers.
_OFFERED: Final = 12


class Catalogue(BaseModel):
    """A shop, its products and its packs, in the order of their ids.

    `is_sample`: it is the embedded one, of an invented shop, and an answer that uses it must say so.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    shop: Shop
    tax: Tax | None
    products: tuple[Product, ...]
    packs: tuple[Pack, ...]
    is_sample: bool

    @property
    def currency(self) -> Currency:
        return self.shop.money

    def product(self, name: str) -> Product:
        """The product of an id. Raises KeyError where there is none."""
        return next((one for one in self.products if one.id == name), None) or _none(name)

    def pack(self, name: str) -> Pack:
        """The pack of an id. Raises KeyError where there is none."""
        return next((one for one in self.packs if one.id == name), None) or _none(name)


def _none(name: str) -> Any:
    raise KeyError(name)


def load(path: Path | None = None) -> Catalogue:
    """The catalogue of a file, or the sample. Raises CatalogueError, holding every mistake, where there is one."""
    if path is None:
        return sample()
    file, table = _read(path)
    mistakes = _Draft(file, table).mistakes
    if mistakes:
        raise CatalogueError(mistakes)
    return _made(table, is_sample=False)


@lru_cache(maxsize=1)
def sample() -> Catalogue:
    """The embedded catalogue of an invented shop."""
    text = (files(__package__) / SAMPLE).read_text(encoding="utf-8")
    # The search for every mistake is left out, for speed at the start: that there is none is tested.
    return _made(_tables(text, SAMPLE), is_sample=True)


def check(path: Path) -> list[Mistake]:
    """Every mistake in a file, in its order; an empty list where it can be used."""
    try:
        file, table = _read(path)
    except CatalogueError as error:
        return list(error.mistakes)
    return _Draft(file, table).mistakes


def _made(table: Mapping[str, Any], is_sample: bool) -> Catalogue:
    return Catalogue(
        shop=Shop.model_validate(table["shop"]),
        tax=Tax.model_validate(table["tax"]) if "tax" in table else None,
        products=tuple(Product.model_validate({"id": name, **table["product"][name]}) for name in sorted(table["product"])),
        packs=tuple(Pack.model_validate({"id": name, **table["pack"][name]}) for name in sorted(table["pack"])),
        is_sample=is_sample,
    )


# ---- from the file to its tables -------------------------------------------------------------------------


def _read(path: Path) -> tuple[str, Mapping[str, Any]]:
    """A file's name, and the tables in it."""
    file = printable(str(path))

    def stop(kind: str, /, **words: object) -> CatalogueError:
        return CatalogueError([problem(kind, **words).at(file, "")])

    most = limits().file_bytes
    try:
        plain = stat.S_ISREG(path.stat().st_mode)
        # A pipe is not even opened: that alone could wait for ever.
        data = _first_bytes(path, most + 1) if plain else b""
    except (FileNotFoundError, NotADirectoryError):
        raise stop("file-missing") from None
    except (OSError, ValueError) as error:
        raise stop("file-unreadable", why=getattr(error, "strerror", None) or "its path cannot be used") from error
    if not plain:
        raise stop("file-not-plain")
    if len(data) > most:
        raise stop("file-too-large", most=most)
    if data.startswith(b"\xef\xbb\xbf"):
        raise stop("file-byte-order-mark")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise stop("file-not-utf8", line=data.count(b"\n", 0, error.start) + 1) from None
    for number, line in enumerate(text.split("\n"), 1):
        if len(line) > limits().line_length:
            raise stop("line-too-long", line=number, most=limits().line_length)
    return file, _tables(text, file)


def _first_bytes(path: Path, most: int) -> bytes:
    with path.open("rb") as source:
        return source.read(most)


def _tables(text: str, file: str) -> Mapping[str, Any]:
    try:
        table = tomllib.loads(text, parse_float=_decimal)
    except tomllib.TOMLDecodeError as error:
        why = str(error)
        twice = why.startswith(("Cannot declare", "Cannot overwrite", "Cannot mutate", "Duplicate"))
        entry = _entry_at(text, why)
        raise CatalogueError([problem("said-twice" if twice else "not-toml", why=printable(why)).at(file, entry)]) from None
    except RecursionError:
        raise CatalogueError([problem("nested-too-deeply").at(file, "")]) from None
    except ValueError:
        # Python itself refuses to read an integer of thousands of digits.
        raise CatalogueError([problem("figure-too-long").at(file, "")]) from None
    if not table:
        raise CatalogueError([problem("file-empty").at(file, "")])
    return table


def _decimal(text: str) -> Decimal:
    try:
        return Decimal(text)
    except DecimalException:
        raise ValueError(text) from None


def _entry_at(text: str, why: str) -> str:
    """The table that stands at or above the line that a message of the TOML reader names."""
    at = re.search(r"\(at line (\d+)", why)
    entry = ""
    for line in text.splitlines()[: int(at[1]) if at else 0]:
        header = re.match(r"\s*\[\s*([A-Za-z0-9_.\-]{1,80})\s*\]\s*(?:#.*)?$", line)
        entry = header[1] if header else entry
    return entry


# ---- from tables to entries, gathering what is wrong -----------------------------------------------------


class _Draft:
    """A file's tables gone through once: all that is wrong with them."""

    def __init__(self, file: str, table: Mapping[str, Any]) -> None:
        self.file = file
        self.mistakes: list[Mistake] = []
        for name in table:
            if name not in _KNOWN:
                self._say(_label("", name), [problem("table-unknown", nearest=nearest(name, _KNOWN))])
        shop = self._only(table, "shop", Shop, needed=True)
        self._only(table, "tax", Tax, needed=False)
        products = self._each(table, "product", Product, limits().products)
        packs = self._each(table, "pack", Pack, limits().packs)
        self._names("product", products)
        self._names("pack", packs)
        code = shop.get("currency")
        for name, fields in packs.items():
            self._say(_label("pack", name), _amiss_with_products(fields, products))
            if isinstance(code, str):
                self._say(_label("pack", name), _amiss_in_money(fields, money.currency(code)))

    def _say(self, entry: str, problems: Iterable[Problem]) -> None:
        self.mistakes.extend(one.at(self.file, entry) for one in problems)

    def _only(self, table: Mapping[str, Any], name: str, kind: type[Entry], needed: bool) -> Fields:
        """The sound fields of a table that stands once."""
        if name not in table:
            if needed:
                self._say(name, [problem("table-missing")])
            return {}
        fields, problems = _fields(kind, table[name])
        self._say(name, problems)
        return fields

    def _each(self, table: Mapping[str, Any], name: str, kind: type[Entry], most: int) -> dict[str, Fields]:
        """The sound fields of each entry of a kind, by id."""
        entries = table.get(name, {})
        if not isinstance(entries, dict):
            self._say(name, [problem("not-a-table", example=kind.example[""])])
            return {}
        if not entries:
            self._say("", [problem("no-entries", what=name, example="castings")])
        if len(entries) > most:
            self._say(name, [problem("too-many", count=len(entries), most=most)])
            return {}
        found: dict[str, Fields] = {}
        for key, body in entries.items():
            if isinstance(body, dict) and "id" in body:
                body = {field: value for field, value in body.items() if field != "id"}
                self._say(_label(name, key), [_unknown(kind, "id")])
            fields, problems = _fields(kind, {"id": key, **body} if isinstance(body, dict) else body)
            self._say(_label(name, key), (one._replace(field="") if one.field == "id" else one for one in problems))
            found[key] = fields
        return found

    def _names(self, kind: str, entries: Mapping[str, Fields]) -> None:
        first: dict[str, str] = {}
        for key, fields in entries.items():
            name = fields.get("name")
            if isinstance(name, str):
                other = first.setdefault(name.casefold(), key)
                if other != key:
                    self._say(_label(kind, key), [problem("name-twice", "name", other=f"[{_label(kind, other)}]")])


def _fields(kind: type[Entry], body: object) -> tuple[Fields, list[Problem]]:
    """The fields of an entry that are sound, and what is wrong with the others and between them."""
    if not isinstance(body, dict):
        return {}, [problem("not-a-table", example=kind.example[""])]
    keys = _keys(kind)
    problems = [_unknown(kind, key) for key in body if key not in keys]
    fields: Fields = {}
    for key, (name, needed, adapter) in keys.items():
        if key not in body:
            if needed:
                problems.append(problem("field-missing", key, example=kind.example.get(key, key)))
            continue
        try:
            fields[name] = adapter.validate_python(body[key])
        except ValidationError as error:
            problems.extend(_problem(key, one) for one in error.errors(include_url=False))
    given = [name for key, (name, _, _) in keys.items() if key in body]
    problems.extend(kind.amiss(fields, given))
    return fields, problems


@lru_cache(maxsize=16)
def _keys(kind: type[Entry]) -> Mapping[str, tuple[str, bool, TypeAdapter[Any]]]:
    """By the key in the file: the field's name, whether it is needed, and what validates it alone."""
    return {field.alias or name: (name, field.is_required(), _alone(field)) for name, field in kind.model_fields.items()}


def _alone(field: FieldInfo) -> TypeAdapter[Any]:
    alone: Any = field.annotation
    return TypeAdapter(Annotated[alone, *field.metadata] if field.metadata else alone)


def _problem(key: str, error: ErrorDetails) -> Problem:
    """An error of pydantic's as a problem of ours."""
    inside = [key, *error["loc"]]
    place = "".join(f"[{step + 1}]" if isinstance(step, int) else f".{step}" for step in inside).removeprefix(".")
    context: Mapping[str, Any] = error.get("ctx", {})
    if error["type"] == "shop":
        return Problem(context["kind"], ".".join(part for part in (place, context["field"]) if part), context["words"])
    nested, last = _NESTED[key], str(inside[-1])
    if error["type"] == "missing":
        return problem("field-missing", place, example=nested.example[last])
    if error["type"] == "extra_forbidden":
        return _unknown(nested, last)._replace(field=printable(place))
    return problem("not-a-table", place, example=nested.example[""])


def _unknown(kind: type[Entry], key: str) -> Problem:
    known = [one for one in _keys(kind) if one != "id"]
    return problem("field-unknown", quoted(key)[1:-1], fields=", ".join(known), nearest=nearest(key, known))


def _label(kind: str, key: str) -> str:
    """An entry's name, its own part in quotation marks where it could not stand in brackets."""
    name = key if re.fullmatch(r"[A-Za-z0-9_-]{1,80}", key, re.ASCII) else quoted(key)
    return f"{kind}.{name}" if kind else name


# ---- between entries -------------------------------------------------------------------------------------


def _amiss_with_products(pack: Fields, products: Mapping[str, Fields]) -> Iterator[Problem]:
    wanted, size = pack.get("product"), pack.get("size")
    if isinstance(wanted, str) and products and wanted not in products:
        offered = ", ".join(quoted(name)[1:-1] for name in sorted(products)[:_OFFERED])
        yield problem(
            "product-unknown", "product", given=quoted(wanted)[1:-1], products=offered, nearest=nearest(wanted, products)
        )
    density = products.get(str(wanted), {}).get("density")
    if isinstance(size, Size) and isinstance(density, Density):
        litres = size.at(density.kilograms_a_litre).litres
        low, high = limits().size_low, limits().size_high
        if not low <= litres <= high:
            yield problem("size-unlikely", "size", litres=f"{float(litres):.7g}", low=low, high=high)


def _amiss_in_money(pack: Fields, of: Currency) -> Iterator[Problem]:
    bulk = pack.get("bulk")
    step = bulk.step if isinstance(bulk, Bulk) else Decimal(1)
    prices = [("price", pack.get("price"))]
    prices += [(f"breaks[{place}].each", one.each) for place, one in enumerate(pack.get("breaks", ()), 1)]
    for field, price in prices:
        if not isinstance(price, Decimal):
            continue
        if price != money.quantize(price, of):
            yield problem("money-too-fine", field, given=price, currency=of.code, digits=of.digits)
        elif price * step != money.quantize(price * step, of):
            yield problem("step-price", field, step=step, price=price, currency=of.code)
