"""Files of the owner: whole or not at all, and never somebody's work by accident."""

import os
import stat
from datetime import date

import pytest
from openpyxl import Workbook

from upgrade_planner.configuration.tables.workbooks import WorkbookSheet, workbook_bytes
from upgrade_planner.documents.shared import writing
from upgrade_planner.documents.shared.writing import (
    NotWritten,
    require_target,
    write_all,
    write_whole,
)


def left_in(folder):
    return sorted(path.name for path in folder.iterdir())


class TestWhatIsThereAlready:
    def test_existing_file_keeps_its_mode(self, tmp_path):
        target = tmp_path / "internal.pdf"
        target.write_text("old")
        target.chmod(0o600)
        write_whole(target, b"new")
        assert target.read_bytes() == b"new"
        assert stat.S_IMODE(target.stat().st_mode) == 0o600

    def test_write_protected_file_is_not_replaced(self, tmp_path):
        target = tmp_path / "sheet.pdf"
        target.write_text("old")
        target.chmod(0o444)
        with pytest.raises(NotWritten, match="write-protected"):
            write_whole(target, b"new")
        assert target.read_text() == "old"

    def test_symbolic_link_is_written_through(self, tmp_path):
        real, link = tmp_path / "real.pdf", tmp_path / "link.pdf"
        real.write_text("old")
        link.symlink_to(real)
        write_whole(link, b"new")
        assert link.is_symlink()
        assert real.read_bytes() == b"new"

    def test_symbolic_link_to_nothing_makes_the_file_it_names(self, tmp_path):
        (tmp_path / "link.pdf").symlink_to(tmp_path / "real.pdf")
        write_whole(tmp_path / "link.pdf", b"new")
        assert (tmp_path / "real.pdf").read_bytes() == b"new"

    def test_links_round_a_circle_are_refused(self, tmp_path):
        (tmp_path / "a").symlink_to(tmp_path / "b")
        (tmp_path / "b").symlink_to(tmp_path / "a")
        with pytest.raises(NotWritten, match="circle"):
            require_target(tmp_path / "a")

    def test_pipe_and_device_are_refused(self, tmp_path):
        os.mkfifo(tmp_path / "pipe.pdf")
        for target in (tmp_path / "pipe.pdf", type(tmp_path)("/dev/null")):
            with pytest.raises(NotWritten, match="pipe or device"):
                require_target(target)

    def test_input_is_refused_whatever_name_it_is_given(self, tmp_path):
        (tmp_path / "prices.csv").write_text("work")
        (tmp_path / "link.csv").symlink_to(tmp_path / "prices.csv")
        with pytest.raises(NotWritten, match="made from"):
            require_target(tmp_path / "link.csv", inputs=[tmp_path / "prices.csv"], replace=True)

    def test_what_people_edit_is_replaced_on_request_only(self, tmp_path):
        target = tmp_path / "my_car.toml"
        require_target(target, is_edited=True)
        target.write_text("an evening's work")
        with pytest.raises(NotWritten, match="--replace"):
            require_target(target, is_edited=True)
        require_target(target, is_edited=True, replace=True)
        require_target(target)

    def test_a_paper_takes_the_place_of_a_paper_only(self, tmp_path):
        target = tmp_path / "steps.csv"
        for old in (b"step,phase\nA1,A\n", b""):
            target.write_bytes(old)
            write_whole(target, b"\xef\xbb\xbfstep,phase\nB1,B\n")
        target.write_text("wire,seen\ncharge-output,yes\n")
        with pytest.raises(NotWritten, match="a table with other columns, somebody's work"):
            write_whole(target, b"step,phase\nA1,A\n")
        assert target.read_text() == "wire,seen\ncharge-output,yes\n"

    def test_a_workbook_of_another_program_stays(self, tmp_path):
        target, day = tmp_path / "prices.xlsx", date(2026, 1, 2)
        ours = workbook_bytes([WorkbookSheet(title="Order", rows=(("a",),))], day)
        target.write_bytes(ours)
        write_whole(target, ours)
        book = Workbook()
        book.properties.creator = "the shop"
        book.save(target)
        with pytest.raises(NotWritten, match="workbook that another program made"):
            write_whole(target, ours)


class TestNothingHalfWritten:
    @pytest.mark.parametrize("stop", [KeyboardInterrupt, SystemExit(143)])
    def test_broken_off_while_writing_leaves_no_file(self, tmp_path, monkeypatch, stop):
        def broken(_):
            raise stop

        monkeypatch.setattr(writing, "_mode_for", broken)
        with pytest.raises(type(stop) if isinstance(stop, SystemExit) else stop):
            write_whole(tmp_path / "a.pdf", b"new")
        assert left_in(tmp_path) == []

    def test_second_of_two_fails_and_the_first_is_as_it_was(self, tmp_path, monkeypatch):
        (tmp_path / "a.pdf").write_text("old a")
        (tmp_path / "b.pdf").write_text("old b")
        replace = type(tmp_path).replace

        def failing(self, target):
            if target.name == "b.pdf" and self.suffix == ".part":
                raise OSError(5, "Input/output error")
            return replace(self, target)

        monkeypatch.setattr(type(tmp_path), "replace", failing)
        with pytest.raises(NotWritten, match="Input/output error"):
            write_all({tmp_path / "a.pdf": b"new a", tmp_path / "b.pdf": b"new b"})
        assert left_in(tmp_path) == ["a.pdf", "b.pdf"]
        assert (tmp_path / "a.pdf").read_text() == "old a"

    def test_file_system_without_second_names_is_written_all_the_same(self, tmp_path, monkeypatch):
        def refused(*_):
            raise PermissionError(1, "Operation not permitted")

        monkeypatch.setattr(os, "link", refused)
        (tmp_path / "a.pdf").write_text("old a")
        write_all({tmp_path / "a.pdf": b"new a", tmp_path / "b.pdf": b"new b"})
        assert (tmp_path / "a.pdf").read_bytes() == b"new a"
        assert left_in(tmp_path) == ["a.pdf", "b.pdf"]
