"""The folders that come with the program are found in a checkout and in a package."""

from pathlib import Path

import pytest

from coursekit.files.resources import MissingResource, resource_dir


def test_an_installed_package_carries_its_folders(tmp_path: Path) -> None:
    bundled = tmp_path / "site-packages" / "coursekit" / "_bundled" / "scenarios"
    bundled.mkdir(parents=True)

    assert resource_dir("scenarios", tmp_path / "site-packages" / "coursekit") == bundled


def test_a_checkout_has_them_beside_its_project_file(tmp_path: Path) -> None:
    (tmp_path / "coursekit").mkdir()
    (tmp_path / "scenarios").mkdir()
    (tmp_path / "pyproject.toml").touch()

    assert resource_dir("scenarios", tmp_path / "coursekit") == tmp_path / "scenarios"


def test_a_folder_of_that_name_elsewhere_is_not_taken(tmp_path: Path) -> None:
    (tmp_path / "coursekit").mkdir()
    (tmp_path / "scenarios").mkdir()

    with pytest.raises(MissingResource) as caught:
        resource_dir("scenarios", tmp_path / "coursekit")

    assert str(caught.value) == "The folder scenarios of coursekit is not there. Install it again."
