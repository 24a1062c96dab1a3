"""Set Fernwright up beside this file and open it; needs Python alone, nothing installed.

    python3 start.py [FILE]                   set up if need be, then open the window
    python3 start.py summary FILE --to PATH   the same for a command (also: readings)
    python3 start.py --test [ARGUMENTS]       set up, then run the tests (pytest's arguments)

The program's own start is `gui.__main__`; here is only what must come before it. This file keeps
to syntax that old versions of Python read, so that it can say they are too old.
"""

import contextlib
import hashlib
import importlib.util
import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
STAMP = VENV / "fernwright-setup.json"
LOG = VENV / "fernwright-setup.log"
STARTER = ROOT / "resources" / "demos" / "starter.fern"
ALL_TESTS = ("-n", "2")  # two processes, since two cores are what every machine has
OLDEST = (3, 11)

# What pip, venv or apt-get write when they fail -> what to tell the user, in this order.
REASONS = (
    (
        r"No space left on device|Errno 28|not enough space|No space left",
        "The disk is full: make about 2 GB free where {root} is, then start again.",
    ),
    (
        r"Permission denied|Read-only file system",
        "{root} cannot be written to: copy the folder to a place of your own, then start again.",
    ),
    (
        r"CERTIFICATE_VERIFY_FAILED",
        "pip does not trust the package index's certificate: set PIP_CERT to the certificate file"
        " of your network, then start again.",
    ),
    (
        r"from versions: none|name resolution|Failed to resolve|NewConnectionError|ProxyError"
        r"|ConnectTimeout|Connection refused|Network is unreachable|Read timed out|SSLError",
        "pip cannot reach the package index: check the network connection, then start again.",
    ),
)

WITHOUT_VENV = (
    "This Python cannot make environments: install its venv and ensurepip modules with your"
    " system's package manager, then start again."
)


class SetupError(Exception):
    """Setting up cannot go on; the text is what to show."""


def main(arguments):
    """Set up what is missing and run what was asked for; return the exit code."""
    old = complaint_about(sys.version_info)
    if old:
        print(old, file=sys.stderr)
        return 1
    try:
        if arguments[:1] == ["--test"]:
            return run_tests(arguments[1:])
        return open_program(arguments)
    except SetupError as error:
        print(error, file=sys.stderr)
        return 1
    except OSError as error:
        print(reason(str(error), "Setting up failed"), file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130


def complaint_about(version):
    """Return what to say of this Python version; empty when it is new enough."""
    if tuple(version[:2]) >= OLDEST:
        return ""
    return (
        "Fernwright needs Python {}.{} or newer and this is {}.{}: "
        "start it with a newer one, for example: python3.12 start.py".format(*OLDEST, *version[:2])
    )


def open_program(arguments):
    from gui.__main__ import argument_trouble, opens_window
    from gui.system import has_display, needed_libraries

    trouble = argument_trouble(arguments)
    if trouble:
        print(trouble, file=sys.stderr)
        return 2
    window = opens_window(arguments)
    headless = window and not has_display()
    prepare_system(needed_libraries() if window and not headless else ())
    prepare_python(set())
    if headless:
        return write_summary(Path(arguments[0]) if arguments else STARTER)
    return run_program(arguments)


def write_summary(design):
    """Write the summary of a design, as there is no display to open its window on."""
    if not design.is_file():
        print(f"{design}: there is no such file; give the name of a .fern design.", file=sys.stderr)
        return 2
    target = Path.cwd() / (design.stem + "-summary.pdf")
    print(
        f"There is no display, so no window can open; writing the summary of {design} instead.",
        flush=True,
    )
    code = run_program(["summary", str(design), "--to", str(target)])
    if code == 0:
        print("The summary is in", target)
    return code


def run_program(arguments):
    # -P keeps a folder named core or gui in the current directory from being taken for ours.
    return subprocess.call([str(venv_python()), "-P", "-m", "gui", *arguments])


def run_tests(arguments):
    from gui.system import DRAWING_LIBRARIES

    prepare_system(DRAWING_LIBRARIES)
    prepare_python({"test"})
    environment = dict(os.environ, QT_QPA_PLATFORM="offscreen")
    command = [str(venv_python()), "-m", "pytest", *(arguments or ALL_TESTS)]
    return subprocess.call(command, cwd=str(ROOT), env=environment)


# --- the system's own packages


def prepare_system(libraries):
    """Install the system packages for these libraries and for environments, or say how.

    Once something is missing, whatever else could be missed later comes in the same go.
    """
    from gui.system import ALL_LIBRARIES, install_line, lacking_sentence, missing

    lacking = missing(libraries)
    venv = missing_venv_package()
    if not venv and not lacking:
        return
    if not shutil.which("apt-get"):
        raise SetupError(lacking_sentence(lacking) if lacking else WITHOUT_VENV)
    packages = venv + [ALL_LIBRARIES[name] for name in missing(ALL_LIBRARIES)]
    if os.geteuid() != 0:
        raise SetupError(
            "Some system packages are missing; install them as root (or with sudo before it) and"
            " start again:\n    " + install_line(packages)
        )
    install_packages(packages, install_line(packages))


def missing_venv_package():
    """Return the Debian package that lets this Python make environments, if that is missing."""
    if all(importlib.util.find_spec(name) for name in ("venv", "ensurepip")):
        return []
    return ["python{}.{}-venv".format(*sys.version_info[:2])]


def install_packages(packages, line):
    """Install Debian packages; only root gets here."""
    print("Installing system packages:", " ".join(packages), flush=True)
    environment = dict(os.environ, DEBIAN_FRONTEND="noninteractive")
    wait_for_lock = ["-q", "-o", "DPkg::Lock::Timeout=120"]
    run_quietly(["apt-get", "update", *wait_for_lock], environment)
    code, output = run_quietly(line.split() + wait_for_lock, environment)
    if code != 0:
        raise SetupError(
            f"apt-get could not install what is missing ({last_line(output)}): see that it reaches"
            f" its archive, then run as root:\n    apt-get update && {line}"
        )


# --- Python's own packages


def prepare_python(extras):
    """Make the environment hold the project with these extras; quick when it already does."""
    done = read_stamp()
    wanted = dict(fingerprint(), extras=sorted(set(done.get("extras", [])) | extras))
    if done == wanted and venv_python().exists():
        return
    if not can_reuse(done, wanted):
        make_venv()
    install_project(wanted["extras"])
    STAMP.write_text(json.dumps(wanted), encoding="utf-8")


def fingerprint():
    """Return what makes an environment out of date when it changes."""
    project = (ROOT / "pyproject.toml").read_bytes()
    return {
        "project": hashlib.sha256(project).hexdigest(),
        "python": ".".join(str(number) for number in sys.version_info[:2]),
        "place": str(ROOT),
    }


def read_stamp():
    """Return what the last completed set-up noted down; empty when there was none."""
    try:
        stamp = json.loads(STAMP.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return stamp if isinstance(stamp, dict) else {}


def can_reuse(done, wanted):
    """Say whether the environment only needs packages, not to be made anew."""
    same = all(done.get(key) == wanted[key] for key in ("python", "place"))
    return same and run_quietly([str(venv_python()), "-m", "pip", "--version"])[0] == 0


def make_venv():
    print("Making an environment in", VENV, flush=True)
    code, output = run_quietly([sys.executable, "-m", "venv", "--clear", str(VENV)])
    if code != 0:
        raise SetupError(reason(output, "Python could not make an environment"))


def install_project(extras):
    """Install the project in place, telling what arrives."""
    what = "{}[{}]".format(ROOT, ",".join(extras)) if extras else str(ROOT)
    print(
        "Installing what Fernwright needs into it; the first time takes a minute or two.",
        flush=True,
    )
    command = [str(venv_python()), "-m", "pip", "--disable-pip-version-check", "install", "-e"]
    code, output = run_quietly([*command, what], tell=print_progress)
    write_log(output)
    if code != 0:
        raise SetupError(reason(output, f"pip failed; its words are in {LOG}"))


def print_progress(line):
    found = re.match(r"Collecting ([\w.-]+)", line)
    if found:
        print("   ", found.group(1), flush=True)
    elif line.startswith("Installing collected packages"):
        print("    unpacking", flush=True)


def write_log(output):
    # On a full disk the log is lost, but the caller still says so.
    with contextlib.suppress(OSError):
        LOG.write_text(output, encoding="utf-8")


def venv_python():
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


# --- running other programs


def run_quietly(command, environment=None, tell=None):
    """Run a command and return its exit code and all that it wrote; ``tell`` gets each line."""
    try:
        process = subprocess.Popen(
            command,
            env=environment,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            universal_newlines=True,
            errors="replace",
        )
    except OSError as error:
        return 127, str(error)
    lines = []
    with process:
        for line in process.stdout:
            lines.append(line)
            if tell:
                tell(line)
    return process.returncode, "".join(lines)


def reason(output, otherwise):
    """Return in one sentence why a command failed, as far as its words tell."""
    for pattern, sentence in REASONS:
        if re.search(pattern, output):
            return sentence.format(root=ROOT)
    return f"{otherwise} ({last_line(output)})."


def last_line(output):
    lines = output.strip().splitlines()
    return lines[-1].strip() if lines else "no reason given"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
