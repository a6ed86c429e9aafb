"""Where the data lie, and which places are refused."""

import os
import stat
from pathlib import Path

import platformdirs
import pytest
from tests.command_line import Cli, CliProcess

from steelyard.site import place as place_module
from steelyard.site.place import DATA, DATABASE, Place, PlaceRefused, file_system_of, make_ready, place_from

# Lines as Linux writes them (proc(5), mountinfo), of a machine that never was.
MOUNTS = """\
22 1 254:1 / / rw,relatime shared:1 - ext4 /dev/vda1 rw,errors=remount-ro
23 22 0:21 / /proc rw,nosuid,nodev,noexec,relatime shared:12 - proc proc rw
31 22 0:44 / /home rw,relatime shared:60 - nfs4 storage:/export/home rw,vers=4.2,addr=192.0.2.7
32 31 254:2 / /home/ada/local rw,relatime shared:61 - ext4 /dev/vdb1 rw
33 22 0:45 / /mnt/office\\040share rw,relatime shared:62 - cifs //office/share rw,vers=3.1.1
34 22 0:46 / /mnt/far rw,nosuid,nodev,relatime shared:63 - fuse.sshfs ada@far:/data rw,user_id=1000
35 22 0:47 / /srv rw,relatime - ext4 /dev/vdc1 rw
36 22 0:48 / /srv rw,relatime - nfs server:/srv rw
37 22 0:49 / /mnt/over rw,relatime - nfs server:/over rw
38 37 254:3 / /mnt/over rw,relatime master:1 propagate_from:2 - xfs /dev/vdd1 rw
39 22 0:50 / /tmp rw - tmpfs tmpfs rw
"""


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("/var/lib/steelyard", "ext4"),
        ("/home/ada/data", "nfs4"),
        ("/home/ada/local/data", "ext4"),
        ("/home/ada/locality", "nfs4"),
        ("/homestead", "ext4"),
        ("/mnt/office share/data", "cifs"),
        ("/mnt/office", "ext4"),
        ("/mnt/far", "fuse.sshfs"),
        ("/srv/data", "nfs"),
        ("/mnt/over/data", "xfs"),
        ("/tmp/x", "tmpfs"),  # noqa: S108 - a path to read about, nothing is written there
    ],
)
def test_the_innermost_and_latest_mount_holds(path: str, kind: str) -> None:
    assert file_system_of(Path(path), MOUNTS) == kind


def test_where_nothing_is_said_of_mounts_nothing_is_known() -> None:
    assert file_system_of(Path("/home/ada"), "") == ""
    assert file_system_of(Path("/home/ada"), "not a line of mountinfo\n\n1 2 - \n") == ""


def test_the_real_table_of_this_machine_can_be_read(tmp_path: Path) -> None:
    if not place_module.MOUNTS.exists():
        pytest.skip("only Linux has /proc/self/mountinfo")
    mounts = place_module.MOUNTS.read_text(encoding="utf-8")
    if not any(line.split()[4] == "/" for line in mounts.splitlines()):
        pytest.skip("inside a changed root the table does not say what holds it")
    assert file_system_of(tmp_path.resolve(), mounts)


@pytest.mark.parametrize("kind", ["nfs4", "cifs", "fuse.sshfs"])
def test_a_network_file_system_is_refused_before_anything_is_made(
    kind: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    mounts = tmp_path / "mountinfo"
    mounts.write_text(f"22 1 254:1 / / rw - ext4 /dev/vda1 rw\n31 22 0:44 / {tmp_path} rw - {kind} far:/x rw\n")
    monkeypatch.setattr(place_module, "MOUNTS", mounts)
    folder = tmp_path / "new" / "data"
    with pytest.raises(PlaceRefused, match=rf"network file system \({kind}\).*{DATABASE}"):
        make_ready(Place(folder))
    assert not folder.parent.exists()
    # With a server the folder holds no log.
    make_ready(Place(folder, "postgresql://server/log"))
    assert folder.is_dir()


def test_a_link_into_a_network_file_system_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    far, near = tmp_path / "far", tmp_path / "near"
    far.mkdir()
    near.symlink_to(far)
    mounts = tmp_path / "mountinfo"
    mounts.write_text(f"22 1 254:1 / / rw - ext4 /dev/vda1 rw\n31 22 0:44 / {far} rw - nfs4 server:/x rw\n")
    monkeypatch.setattr(place_module, "MOUNTS", mounts)
    with pytest.raises(PlaceRefused, match="network file system"):
        make_ready(Place(near / "data"))


def test_the_folder_asked_for_comes_before_the_variable_and_that_before_the_usual_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    usual = Path(platformdirs.user_data_dir("steelyard", appauthor=False))
    assert place_from() == Place(usual)
    monkeypatch.setenv(DATA, str(tmp_path / "variable"))
    assert place_from() == Place(tmp_path / "variable")
    assert place_from(str(tmp_path / "asked")) == Place(tmp_path / "asked")
    monkeypatch.setenv(DATA, "")
    assert place_from() == Place(usual)


def test_the_server_is_one_setting(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(DATABASE, "postgresql://server/log")
    assert place_from().database == "postgresql://server/log"
    monkeypatch.setenv(DATABASE, "")
    assert place_from().database is None


def test_a_folder_is_taken_from_here_and_from_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    assert place_from("log").folder == tmp_path / "log"
    assert place_from("~/log").folder == tmp_path / "home" / "log"
    with pytest.raises(PlaceRefused, match="home of nobody"):
        place_from("~nobody-of-that-name/log")


def test_commands_take_the_folder_in_that_order(cli_process: CliProcess, tmp_path: Path) -> None:
    variable, asked, home = tmp_path / "variable", tmp_path / "asked", tmp_path / "home"
    log = ("log", "squat 5 @ 100kg", "--lifter", "Ada")
    if DATABASE in cli_process.environment:
        pytest.skip("the log is on the server; its folder holds the device only")
    cli_process(*log, "--data", asked, STEELYARD_DATA=str(variable))
    assert (asked / "log.sqlite3").exists()
    assert not variable.exists()
    cli_process("--data", asked / "second", *log, STEELYARD_DATA=str(variable))
    assert (asked / "second" / "log.sqlite3").exists()
    cli_process(*log, STEELYARD_DATA=str(variable))
    assert (variable / "log.sqlite3").exists()
    cli_process(*log, STEELYARD_DATA="", HOME=str(home), XDG_DATA_HOME="")
    assert list(home.rglob("log.sqlite3"))


def test_a_file_in_the_way_is_refused(tmp_path: Path, cli: Cli) -> None:
    (tmp_path / "file").write_text("mine")
    for folder in (tmp_path / "file", tmp_path / "file" / "deeper" / "data"):
        with pytest.raises(PlaceRefused, match="is a file, not a folder"):
            make_ready(Place(folder))
        assert "is a file, not a folder" in cli("history", "--data", folder, status=1).err
    assert (tmp_path / "file").read_text() == "mine"


def test_a_name_that_no_folder_can_have_is_refused(cli: Cli) -> None:
    assert "cannot reach the folder" in cli("history", "--data", "x" * 300, status=1).err


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_that_may_not_be_written_is_refused(tmp_path: Path) -> None:
    tmp_path.chmod(stat.S_IRUSR | stat.S_IXUSR)
    try:
        with pytest.raises(PlaceRefused, match=r"may not write|cannot make"):
            make_ready(Place(tmp_path))
        with pytest.raises(PlaceRefused, match="cannot make the folder"):
            make_ready(Place(tmp_path / "data"))
    finally:
        tmp_path.chmod(stat.S_IRWXU)
