"""Saved tables are as good as fresh ones, are trusted only where nobody else could have written them, and are made again when broken."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from grammar import parse, quantities, tables, words
from grammar.tables import Table

ROOT = Path(__file__).parents[2]
pytestmark = pytest.mark.skipif(not hasattr(os, "geteuid"), reason="nothing is kept where a file's owner is not known")


class Maker:
    """Makes a table, and counts how often it had to."""

    def __init__(self) -> None:
        self.times = 0

    def __call__(self) -> Any:
        self.times += 1
        return {"a": (1, 2.5, frozenset({"x"})), "b": [None, True]}


@pytest.fixture
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    home = tmp_path / "cache"
    home.mkdir(mode=0o700)
    monkeypatch.setenv("XDG_CACHE_HOME", str(home))
    monkeypatch.setattr(tables, "SHIPPED", str(tmp_path / "shipped"))
    return home / "castings"


def table(make: Maker) -> Table:
    return Table("trial", ("units.txt", "vocabulary/"), ("lark",), make)


def test_a_table_is_made_once_and_then_loaded(cache: Path) -> None:
    make = Maker()
    assert table(make).load() == table(make).load() == Maker()()
    assert make.times == 1
    assert os.listdir(cache) == ["trial.table"]
    assert (cache.stat().st_mode & 0o777, (cache / "trial.table").stat().st_mode & 0o777) == (0o700, 0o600)


def test_a_shipped_table_needs_no_cache(cache: Path) -> None:
    make = Maker()
    table(make).ship(tables.SHIPPED)
    assert table(make).load() == Maker()() and make.times == 1 and not cache.exists()


def test_the_key_knows_every_source(cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    key = table(Maker()).key()
    assert key is not None and key == table(Maker()).key()
    assert Table("trial", ("units.txt",), ("lark",), Maker()).key() != key
    assert Table("trial", ("units.txt", "vocabulary/"), ("pint",), Maker()).key() != key
    monkeypatch.setattr(tables.sys, "version_info", (4, 0))
    assert table(Maker()).key() != key
    assert Table("trial", ("no such file",), (), Maker()).key() is None
    make = Maker()
    missing = Table("trial", ("no such file",), (), make)
    assert missing.load() == missing.load() and make.times == 2 and not cache.exists()


def _cut(file: Path) -> None:
    file.write_bytes(file.read_bytes()[:-1])


def _empty(file: Path) -> None:
    file.write_bytes(b"")


def _turned(file: Path) -> None:
    text = bytearray(file.read_bytes())
    text[-3] ^= 1
    file.write_bytes(bytes(text))


def _other_key(file: Path) -> None:
    file.write_bytes(file.read_bytes().replace(b"castings table 1\n", b"castings table 1\n0", 1))


def _folder(file: Path) -> None:
    file.unlink()
    file.mkdir()


def _pipe(file: Path) -> None:
    file.unlink()
    os.mkfifo(file, 0o600)


def _open_to_all(file: Path) -> None:
    file.chmod(0o666)


def _open_to_the_group(file: Path) -> None:
    file.chmod(0o620)


def _open_folder(file: Path) -> None:
    file.parent.chmod(0o777)


def _open_above(file: Path) -> None:
    file.parent.parent.chmod(0o777)


def _link(file: Path) -> None:
    other = file.parent.parent / "elsewhere"
    file.rename(other)
    file.symlink_to(other)


def _folder_link(file: Path) -> None:
    other = file.parent.parent / "elsewhere"
    file.parent.rename(other)
    file.parent.symlink_to(other)


@pytest.mark.parametrize("spoil", [_cut, _empty, _turned, _other_key, _folder, _pipe, _open_to_all, _open_to_the_group, _open_folder,
                                   _open_above, _link, _folder_link])  # fmt: skip
def test_a_broken_or_untrusted_table_is_made_again(cache: Path, spoil: Callable[[Path], None]) -> None:
    make = Maker()
    table(make).load()
    spoil(cache / "trial.table")
    assert table(make).load() == Maker()() and make.times == 2


@pytest.mark.skipif(hasattr(os, "geteuid") and os.geteuid() != 0, reason="only root can give a file away")
@pytest.mark.parametrize("which", ["file", "folder"])
def test_another_user_s_table_is_not_read(cache: Path, which: str) -> None:
    make = Maker()
    table(make).load()
    os.chown(cache / "trial.table" if which == "file" else cache, 65534, 65534)
    assert table(make).load() == Maker()() and make.times == 2


def test_a_cache_that_cannot_be_written_is_passed_over(cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for home in (os.devnull, "/proc/none", str(cache / "x" / "\0")):
        if "\0" not in home:
            monkeypatch.setenv("XDG_CACHE_HOME", home)
        make = Maker()
        assert Table("trial", ("units.txt",), (), make).load() == Maker()()


def test_the_saved_vocabulary_is_the_vocabulary() -> None:
    fresh, saved = words.put_together(), words.vocabulary()
    assert fresh == saved
    assert list(fresh.single) == list(saved.single)


def test_the_saved_units_are_pint_s() -> None:
    known = quantities.UNITS.load()
    assert len(known) > 60
    for name in known:
        one = quantities.registry().Quantity(1.0, name).to_base_units()
        assert quantities.unit(name).factor == one.magnitude


def test_the_saved_parser_parses_like_one_from_the_grammar() -> None:
    from lark import Lark

    fresh = Lark(tables.package_file("request.lark").read_text(encoding="utf-8"), parser="lalr", lexer=parse.TypedTokens,
                 start="request", transformer=parse.Spread(parse.Builder()))  # type: ignore[arg-type]  # fmt: skip
    for line in ("bed 4 by 9 ft, 10 in deep, 10%", "two and a half cups per tomato", "5 ft 2 in x 3 ft", "1:2:1", "$12 a bag", "one to two"):
        tokens = parse.tokenize(line).tokens
        assert fresh.parse(iter(tokens)) == parse.parser().parse(iter(tokens))  # type: ignore[arg-type, call-overload]


def test_no_fact_has_a_unit_that_the_table_lacks() -> None:
    """A made unit that is missing in it would have pint imported at every start that reads that fact."""
    from assistant.knowledge import facts

    known = quantities.UNITS.load()
    assert {fact.unit for fact in facts().rates().values()} - known.keys() == set()


IMPORTED = "import sys; sys.argv = ['castings', *{!r}]\nfrom assistant.cli import main\nmain()\nprint(*sys.modules, file=sys.stderr)"


def imported(*arguments: str, flags: tuple[str, ...] = ()) -> set[str]:
    done = subprocess.run([sys.executable, *flags, "-c", IMPORTED.format(list(arguments))], capture_output=True, text=True, cwd=ROOT, timeout=60)
    return set(done.stderr.split())


def test_a_start_imports_no_more_than_it_must() -> None:
    heavy = {"lark", "pint", "pydantic", "prompt_toolkit", "importlib.metadata", "tomllib", "multiprocessing"}
    for option in ("--version", "--help"):
        # without the site's own start-up, which an editable install fills with imports
        assert not imported(option, flags=("-S",)) & (heavy | {"json", "pathlib", "grammar", "assistant.ask"})
    imported("--json", "side dress 14 peppers")
    one = imported("--json", "side dress 14 peppers")
    assert "lark" in one and not one & {"pint", "prompt_toolkit", "multiprocessing", "concurrent.futures"}
