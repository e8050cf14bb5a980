from __future__ import annotations

import re
import stat
import tomllib

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from house.tree import ROOT, tracked

# Spelt in pieces, so that this file does not hold what it looks for.
REGISTRIES = re.compile(
    "|".join(
        [
            r"py" + r"pi\.(?:org|python)",
            r"files\.python" + r"hosted",
            r"registry\.npm" + r"js",
            r"npm" + r"js\.com",
            r"deb\.deb" + r"ian",
            r"crates" + r"\.io",
            r"anaconda" + r"\.org",
        ]
    )
)
LOCKS = ("requirements.lock", "requirements-dev.lock")


def texts():
    for path in tracked():
        try:
            yield path, path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue


def test_no_tracked_file_names_a_registry():
    assert [str(path) for path, text in texts() if REGISTRIES.search(text)] == []


def test_the_files_with_registry_addresses_are_not_tracked():
    assert {"uv.lock", "pylock.toml"}.isdisjoint(path.name for path in tracked())


def test_no_third_party_script_or_style_sheet_is_copied_in():
    assert [str(path) for path in tracked() if path.name.endswith((".min.js", ".min.css"))] == []


@pytest.mark.parametrize("name", ["midframe", "check", ".ci/run"])
def test_the_commands_can_be_run(name):
    assert (ROOT / name).stat().st_mode & stat.S_IXUSR


def locked(name):
    """Name → versions of one lock."""
    versions = {}
    for line in (ROOT / name).read_text(encoding="utf-8").splitlines():
        if found := re.match(r"([A-Za-z0-9._-]+)==([^ ;]+)", line):
            versions.setdefault(canonicalize_name(found[1]), []).append(found[2])
    return versions


@pytest.mark.parametrize("name", LOCKS)
def test_a_lock_holds_names_versions_and_hashes_only(name):
    line_of_lock = re.compile(
        r"[a-z0-9.-]+==[0-9a-z.+]+( ; [a-z_]+ [<>=!]+ '[A-Za-z0-9.]+')?( and [^/]+)? \\"
        r"|    --hash=sha256:[0-9a-f]{64}( \\)?"
    )
    lines = (ROOT / name).read_text(encoding="utf-8").splitlines()
    assert [line for line in lines if not line_of_lock.fullmatch(line)] == []


def test_the_locks_hold_every_dependency_in_a_version_that_is_asked_for():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    asked = {
        "requirements.lock": project["project"]["dependencies"],
        "requirements-dev.lock": project["project"]["dependencies"] + project["dependency-groups"]["dev"],
    }
    for lock, requirements in asked.items():
        versions = locked(lock)
        for requirement in map(Requirement, requirements):
            found = versions.get(canonicalize_name(requirement.name), [])
            assert found, f"{lock} lacks {requirement.name}: run ./check lock"
            assert all(requirement.specifier.contains(version) for version in found), requirement


def test_both_locks_agree():
    user, developer = map(locked, LOCKS)
    assert {name: developer.get(name) for name in user} == user


def test_a_user_installs_nothing_that_only_developers_need():
    assert {"pytest", "ruff", "mypy", "ortools", "playwright", "uv"}.isdisjoint(locked("requirements.lock"))
