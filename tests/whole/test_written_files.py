"""What is written where a name leads to no plain file of its own."""

from __future__ import annotations

import os
import threading
from pathlib import Path

from pleatwright.shop.folder import write_file, write_folder


def test_a_pipe_is_written_to_and_stays_a_pipe(tmp_path: Path):
    pipe, read = tmp_path / "pipe", list[bytes]()
    os.mkfifo(pipe)
    reader = threading.Thread(target=lambda: read.append(pipe.read_bytes()))
    reader.start()
    write_file(pipe, b"a plan", option="--json")
    reader.join(10)
    assert read == [b"a plan"]
    assert pipe.is_fifo()


def test_what_a_link_leads_to_is_written_and_the_link_stays(tmp_path: Path):
    (tmp_path / "disk").mkdir()
    link, target = tmp_path / "plan.json", tmp_path / "disk" / "plan.json"
    link.symlink_to(target)
    for content in (b"first", b"second"):
        write_file(link, content)
        assert (link.is_symlink(), target.read_bytes()) == (True, content)
    packet, kept = tmp_path / "packet", tmp_path / "disk" / "packet"
    packet.symlink_to(kept)
    for content in (b"first", b"second"):
        write_folder(packet, {"plan.json": content})
        assert (packet.is_symlink(), (kept / "plan.json").read_bytes()) == (True, content)
    assert sorted(path.name for path in (tmp_path / "disk").iterdir()) == ["packet", "plan.json"]
