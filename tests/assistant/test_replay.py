"""Conversation files: how they are read, compared and written."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.chat.talk import Talk
from assistant.cli import main
from assistant.lines import Look
from assistant.replay import LOOK, NotAConversation, Prose, Turn, differences, read, written

PLAIN = "# A bed.\n> pictures off\nNothing is drawn from now on.\n\n#\n# And leaving.\n> quit\nGoodbye.\n"


def test_the_form_of_a_file() -> None:
    items = read("# prose\n\n> said\nreply one\n  reply two\n\n> again\n#\n")
    said = Turn(3, "said", ("reply one", "  reply two"))
    assert items == [Prose("# prose"), Prose(""), said, Prose(""), Turn(7, "again", ()), Prose("#")]
    for text in ("a reply to nothing\n", "# prose\nand more\n", "> said\nreply\n\nand a stray line\n"):
        with pytest.raises(NotAConversation, match="line"):
            read(text)


def test_one_that_is_as_written_has_no_differences() -> None:
    assert differences(PLAIN) == []
    assert written(PLAIN) == PLAIN, "and writing it again changes nothing"


def test_differences_name_the_line_and_show_both(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    wrong = PLAIN.replace("Goodbye.", "Farewell.")
    found = differences(wrong, "demo")
    assert found == ["demo, line 7: > quit", "  -Farewell.", "  +Goodbye."]
    path = tmp_path / "demo.talk"
    path.write_text(wrong, encoding="utf-8")
    assert main(["replay", str(path)]) == 1
    assert "line 7" in capsys.readouterr().out
    assert path.read_text(encoding="utf-8") == wrong, "comparing writes nothing"


def test_a_missing_and_a_surplus_line_are_differences() -> None:
    assert differences(PLAIN.replace("Goodbye.\n", "")) != []
    assert differences(PLAIN.replace("Goodbye.\n", "Goodbye.\nGoodbye.\n")) != []
    assert differences(PLAIN.replace("Goodbye.", "Goodbye. ")) != [], "a space is a difference too"


def test_writing_puts_the_replies_in_and_keeps_the_prose(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = tmp_path / "new.talk"
    path.write_text("# A bed.\n> pictures off\n> quit\nold words\n", encoding="utf-8")
    path.chmod(0o640)
    assert main(["replay", "--write", str(path)]) == 0
    assert "by hand" in capsys.readouterr().out
    assert path.read_text(encoding="utf-8") == "# A bed.\n> pictures off\nNothing is drawn from now on.\n\n> quit\nGoodbye.\n"
    assert path.stat().st_mode & 0o777 == 0o640 and list(tmp_path.iterdir()) == [path]
    assert main(["replay", str(path)]) == 0


def test_wrong_command_lines_and_files(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    (tmp_path / "stray").write_text("stray\n")
    (tmp_path / "bytes").write_bytes(b"> \xff\n")
    wrong = [[], ["--loud"], [str(tmp_path / "none")], [str(tmp_path)], [str(tmp_path / "stray")], [str(tmp_path / "bytes")]]
    for arguments in wrong:
        assert main(["replay", *arguments]) == 2
        shown = capsys.readouterr()
        assert shown.out == "" and shown.err.startswith("castings: ")
    assert main(["replay", "--help"]) == 0


def test_neither_the_clock_nor_a_file_is_touched(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    said = ["top dress a 4 by 8 ft bed with half an inch", "call it the gate bed", "log it", "log it today", "save to here"]
    text = written("".join(f"> {line}\n" for line in said))
    assert "On which day?" in text and "cannot be told here" in text and "not written here" in text
    assert list(tmp_path.iterdir()) == []


def test_the_width_and_the_signs_are_fixed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "33")
    monkeypatch.setenv("LC_ALL", "C")
    assert Look(width=80, pictures=True) == LOOK
    assert differences(PLAIN) == []


def test_no_reply_can_be_taken_for_a_line_of_another_kind() -> None:
    talk = Talk(LOOK, may_write=False)
    for line in ("# 5 pots", "> more", "#5", "#", ">", "12 > 5", "help", "topics", "what is the # on a pot?"):
        reply = talk.reply(line)
        assert read(f"> {line}\n{reply}\n")[0] == Turn(1, line, tuple(reply.splitlines())), line
