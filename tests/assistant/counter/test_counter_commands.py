"""The commands of the counter: `shop check`, `--shop` with one request, batch and chat, and `slip`."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest
from counter_shops import ONE_BAG, written

from assistant.cli import main

BED = "bed 2 m by 1 m, 30 cm deep, 10%"  # 60 L: three bags of 20 L at 10.00 GBP
WRONG = ONE_BAG.replace('"10.00"', '"ten"').replace("GBP", "POUND")


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    status = main(list(arguments))
    said = capsys.readouterr()
    return status, said.out, said.err


def test_a_sound_catalogue(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = run(capsys, "shop", "check", str(written(ONE_BAG, tmp_path)))
    assert (status, err) == (0, "")
    assert "sound; 1 product, 1 pack, prices in GBP" in out


def test_every_mistake_is_said_with_its_place_and_what_would_help(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(WRONG, tmp_path)
    status, out, err = run(capsys, "shop", "check", str(path))
    assert (status, err) == (1, "")
    lines = out.splitlines()
    assert len(lines) == 3 and lines[-1] == "2 mistakes"
    assert lines[0].startswith(f"{path} [shop] currency: ") and "ISO 4217" in lines[0]
    assert lines[1].startswith(f"{path} [pack.bag] price: ") and "“ten”" in lines[1]


@pytest.mark.parametrize("arguments", [("shop", "check", "{}/none.toml"), ("shop", "check", "{}"), ("shop",), ("shop", "look"),
                                       ("shop", "check"), ("shop", "check", "a", "b")])  # fmt: skip
def test_what_cannot_be_read_and_what_is_no_command(
    arguments: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status, out, err = run(capsys, *(part.format(tmp_path) for part in arguments))
    assert (status, out) == (2, "") and err.startswith("castings: ")


def test_one_request_with_a_shop(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = str(written(ONE_BAG, tmp_path))
    for arguments in (("--shop", path, BED), (f"--shop={path}", BED), (BED, "--shop", path)):
        status, out, err = run(capsys, "--json", *arguments)
        record = json.loads(out)
        assert (status, err) == (0, "")
        assert record["packs"] == [{"id": "bag", "name": "20 litre bag", "count": 3}]
        assert record["cost"] == {"amount": "30.00", "currency": "GBP"}


@pytest.mark.parametrize("before", [(), ("batch",), ("chat",), ("slip",)])
def test_a_wrong_catalogue_never_gives_an_answer(
    before: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    request = () if before in (("chat",), ("batch",)) else (BED,)
    status, out, err = run(capsys, *before, "--shop", str(written(WRONG, tmp_path)), *request)
    assert (status, out) == (2, "")
    assert "2 mistakes" in err and "[pack.bag] price" in err and "[shop] currency" in err


def test_a_shop_that_is_not_named(capsys: pytest.CaptureFixture[str]) -> None:
    for arguments in (("--shop",), (BED, "--shop"), ("slip", BED, "--shop")):
        status, out, err = run(capsys, *arguments)
        assert (status, out) == (2, "") and "--shop" in err, arguments


@pytest.mark.parametrize("more", [(), ("--workers", "2"), ("--dialogue",)])
def test_batch_with_a_shop(more: tuple[str, ...], tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    requests = tmp_path / "requests.txt"
    requests.write_text(f"{BED}\nside dress 10 peppers, 1 cup each\n", encoding="utf-8")
    assert main(["batch", str(requests), "--shop", str(written(ONE_BAG, tmp_path)), *more]) == 0
    records = [json.loads(line) for line in capfdbinary.readouterr().out.splitlines()]
    assert [record["cost"]["amount"] for record in records] == ["30.00", "10.00"]


def test_a_slip(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = str(written(ONE_BAG, tmp_path))
    status, out, _ = run(capsys, "slip", "--shop", path, "--date", "2026-05-12", BED)
    assert status == 0 and "Pinder Yard" in out and "12 May 2026" in out and "30.00 GBP" in out
    for form, start in (("json", "{"), ("csv", "kind,id,"), ("markdown", "# Pinder Yard")):
        status, out, _ = run(capsys, "slip", "--form", form, "--shop", path, BED)
        assert status == 0 and out.startswith(start), form


def test_a_slip_of_several(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(
        capsys, "slip", "--form=json", "--shop", str(written(ONE_BAG, tmp_path)), BED, "--and", "top dress 2 m2 with 5 mm"
    )
    body = json.loads(out)
    assert status == 0 and len(body["for"]) == 2 and body["to_buy"][0]["count"] == "4"  # 70 L


def test_a_slip_into_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    place = tmp_path / "slip.txt"
    assert run(capsys, "slip", "--to", str(place), BED) == (0, "", "")
    first = place.read_text(encoding="utf-8")
    status, _, err = run(capsys, "slip", "--to", str(place), "side dress 10 peppers, 1 cup each")
    assert status == 1 and "--replace" in err and place.read_text(encoding="utf-8") == first
    assert run(capsys, "slip", "--to", str(place), "--replace", "side dress 10 peppers, 1 cup each")[0] == 0
    assert "peppers" in place.read_text(encoding="utf-8")


def test_today_stands_on_a_slip_only_when_it_is_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    assert json.loads(run(capsys, "slip", "--form", "json", BED)[1])["date"] is None
    assert json.loads(run(capsys, "slip", "--form", "json", "--today", BED)[1])["date"] == date.today().isoformat()


@pytest.mark.parametrize("request_", ["raised bed 4 by 8 ft, 10% castings", "what is a dry quart?", "zzz"])
def test_a_request_that_has_to_be_asked_about_makes_no_slip(request_: str, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = run(capsys, "slip", request_)
    assert (status, out) == (3, "") and err


@pytest.mark.parametrize(
    "arguments",
    [(), ("--form", "pdf", BED), ("--date", "yesterday", BED), ("--date", "2026-02-30", BED), ("--date", "2026-05-12", "--today", BED),
     ("--replace", BED), ("--to", "", BED), ("--what", BED), ("--date", "2026-05-12", "--date", "2026-05-13", BED), ("--form",)],
)  # fmt: skip
def test_a_wrong_command_line(arguments: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = run(capsys, "slip", *arguments)
    assert (status, out) == (2, "") and err.startswith("castings: ")
