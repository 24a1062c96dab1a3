"""JSON on disk, read with suspicion and written whole or not at all.

Knows files and JSON only; what the records in them mean is said in `core.storage` and
`core.catalogue`.
"""

from __future__ import annotations

import contextlib
import errno
import json
import math
import os
import stat
import tempfile
from pathlib import Path
from typing import Any, NoReturn

from core.errors import FileError
from core.language import tr

LARGEST = 20_000_000
"""Longest file that is read. [bytes]"""
DEEPEST = 40
"""Most records within records."""
LONGEST_LIST = 2000
"""Most entries of one list or record."""
_LONGEST_INTEGER = 30

_FULL = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
_FORBIDDEN = {errno.EACCES, errno.EPERM, errno.EROFS}


class _RefusedError(ValueError):
    """Something that JSON readers let pass and this one does not; its text says what."""


def read_text(path: str | os.PathLike[str]) -> str:
    """Return the text of a file.

    Raises
    ------
    FileError
        If there is no such file, it is not a plain file of UTF-8 text, too large, or closed to
        this user.
    """
    data = read_bytes(path)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        text = tr("is not a text file (byte {place} is not UTF-8)").format(place=error.start + 1)
        raise refusal(Path(path).name, text) from None


def read_bytes(path: str | os.PathLike[str], largest: int = LARGEST) -> bytes:
    """Return what a file of up to ``largest`` bytes holds.

    Raises
    ------
    FileError
        If there is no such file, it is not a plain file, too large, or closed to this user.
    """
    file = Path(path)
    try:
        _check_file(file, file.stat(), largest)
        return file.read_bytes()
    except OSError as error:
        raise FileError(_cannot_read(file, error)) from None


def _check_file(file: Path, found: os.stat_result, largest: int) -> None:
    if stat.S_ISDIR(found.st_mode):
        raise refusal(file.name, tr("is a folder; choose a file in it"))
    if not stat.S_ISREG(found.st_mode):
        raise refusal(file.name, tr("is a device, not a file; choose a file"))
    if found.st_size > largest:
        text = tr("is too large to be one of ours ({size} MB; this program reads up to {most} MB)")
        size, most = math.ceil(found.st_size / 1e6), largest // 1_000_000
        raise refusal(file.name, text.format(size=size, most=most))


def _cannot_read(file: Path, error: OSError) -> str:
    if error.errno in (errno.ENOENT, errno.ENOTDIR):
        return tr("There is no file ‘{name}’; look in another folder.").format(name=file)
    if error.errno in _FORBIDDEN:
        text = tr("‘{name}’ cannot be read: this user is not allowed to; ask its owner.")
        return text.format(name=file.name)
    text = tr("‘{name}’ cannot be read: {reason}.")
    return text.format(name=file.name, reason=_reason(error))


def _reason(error: OSError) -> str:
    return (error.strerror or str(error)).rstrip(".").lower()


def refusal(name: str, text: str) -> FileError:
    """Return the error for a file that is left as it is: ‘name’ and what is wrong with it."""
    return FileError(tr("‘{name}’ {text}. Nothing was changed.").format(name=name, text=text))


def parse(text: str, name: str) -> Any:
    """Return what a JSON text holds.

    Raises
    ------
    FileError
        If it is not JSON, holds a number that is not finite or a key twice in one record, or is
        nested or listed beyond all reason. ``name`` is the file's, for the message.
    """
    try:
        data = json.loads(
            text,
            object_pairs_hook=_record,
            parse_constant=_not_finite,
            parse_float=_finite,
            parse_int=_whole,
        )
        _check_shape(data)
    except json.JSONDecodeError as error:
        message = tr("cannot be read as JSON (line {line}, column {column}: {what})").format(
            line=error.lineno, column=error.colno, what=error.msg.lower()
        )
        raise refusal(name, message) from None
    except _RefusedError as error:
        raise refusal(name, str(error)) from None
    except RecursionError:
        raise refusal(name, _too_deep()) from None
    return data


def _too_deep() -> str:
    return tr("is nested more than {most} records deep").format(most=DEEPEST)


def _record(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    record = dict(pairs)
    if len(record) < len(pairs):
        keys = [key for key, _ in pairs]
        twice = next(key for key in keys if keys.count(key) > 1)
        raise _RefusedError(tr("gives ‘{key}’ twice in one record").format(key=twice[:60]))
    return record


def _not_finite(text: str) -> NoReturn:
    raise _RefusedError(tr("holds {text}, which is no finite number").format(text=text))


def _finite(text: str) -> float:
    value = float(text)
    if not math.isfinite(value):
        _not_finite(text[:40])
    return value


def _whole(text: str) -> int:
    if len(text) > _LONGEST_INTEGER:
        count = len(text)
        raise _RefusedError(tr("holds a whole number of {count} digits").format(count=count))
    return int(text)


def _check_shape(data: Any) -> None:
    layer = [data] if isinstance(data, dict | list) else []
    for _ in range(DEEPEST):
        layer = [value for item in layer for value in _inside(item)]
        if not layer:
            return
    raise _RefusedError(_too_deep())


def _inside(item: dict[str, Any] | list[Any]) -> list[Any]:
    """Return the records and lists directly inside one."""
    if len(item) > LONGEST_LIST:
        text = tr("holds a list of {count} entries; the most is {most}")
        raise _RefusedError(text.format(count=len(item), most=LONGEST_LIST))
    values = item.values() if isinstance(item, dict) else item
    return [value for value in values if isinstance(value, dict | list)]


def write_text(path: str | os.PathLike[str], text: str) -> None:
    """Write a file whole: its old content stays until the new one is safely on the disk.

    A link is followed, so the file it points to is replaced and the link stays. Permissions of an
    existing file are kept.

    Raises
    ------
    FileError
        If it cannot be written; the old file is then as it was.
    """
    way_out = tr("It is still open here; save it to another place.")
    refused = tr("The design was not saved: {reason}. {way_out}")
    write_bytes(path, text.encode("utf-8"), refused.replace("{way_out}", way_out))


def write_bytes(path: str | os.PathLike[str], data: bytes, refused: str) -> None:
    """Write any file whole, as `write_text` does.

    ``refused`` is the sentence of the error, with ``{reason}`` where the reason goes.
    """
    file = Path(os.path.realpath(path))
    try:
        mode = _mode(file)
        _replace(file, data, mode)
    except OSError as error:
        raise FileError(refused.format(reason=_write_reason(file, error))) from None


def _mode(file: Path) -> int:
    """Return the permissions that the file has, or a new one would get."""
    try:
        found = file.stat()
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask
    if stat.S_ISDIR(found.st_mode):
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR))
    if not stat.S_ISREG(found.st_mode):
        raise OSError(errno.EINVAL, tr("it is a device, not a file"))
    if not os.access(file, os.W_OK):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
    return stat.S_IMODE(found.st_mode)


def _replace(file: Path, data: bytes, mode: int) -> None:
    handle, name = tempfile.mkstemp(dir=file.parent, prefix=".fernwright-", suffix=".part")
    try:
        with open(handle, "wb") as part:
            part.write(data)
            part.flush()
            os.fsync(part.fileno())
        os.chmod(name, mode)
        os.replace(name, file)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(name)
        raise
    _settle(file.parent)


def _settle(folder: Path) -> None:
    """Ask the disk to keep the new name too; not every system can."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _write_reason(file: Path, error: OSError) -> str:
    if error.errno in _FULL:
        return tr("the disk is full")
    if error.errno in _FORBIDDEN:
        return tr("this user may not write ‘{file}’").format(file=file)
    if error.errno in (errno.ENOENT, errno.ENOTDIR):
        return tr("there is no folder ‘{folder}’").format(folder=file.parent)
    if error.errno == errno.EISDIR:
        return tr("‘{file}’ is a folder").format(file=file)
    return _reason(error)
