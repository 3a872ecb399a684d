"""Do the tests notice? Changes one thing at a time in the source and runs the tests that see it.

    python tools/mutate.py                       every mutant of every area
    python tools/mutate.py store accounts        of some areas
    python tools/mutate.py review --share 0.05 --seed 7
    python tools/mutate.py --named               the list that must be killed (named_mutants.toml)
    python tools/mutate.py --mirrors 10          a few by chance, each against its file's own test

A mutant is the program with one node of its syntax changed: a comparison flipped, a term dropped,
a number off by one, a guard negated, a call's keyword or a whole statement left out. It is killed
when a test fails. Each area's tests run once under `coverage` to learn which test sees which line;
a mutant then meets only those, the fastest first and the widest among them, in a process forked
from one that has the libraries loaded, and the program too where only functions changed: they are
put in the place of those it has. What survives is told with its place; nothing in `src` is written.
"""

import argparse
import ast
import copy
import gc
import importlib.abc
import importlib.util
import inspect
import json
import os
import pkgutil
import random
import resource
import signal
import subprocess
import sys
import time
import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
SOURCE = ROOT / "src" / "blockwright"
KEPT = ROOT / "build" / "mutants"
MOST_TESTS, WIDEST, MOST_S, MOST_WAIT_S = 40, 10, 60, 300.0
"""Tests a mutant meets, how many of them for the lines they see rather than for being fast, and how
long it has, of the processor and by the clock; one that takes longer counts as killed: it hangs,
for the tests are chosen to take a third of that. A busy machine is slow by the clock alone."""
AT_ONCE = min(os.cpu_count() or 1, 4)
"""Mutants tried side by side: each is a process of some 300 MB."""

AREAS: Mapping[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "review": (("engine/review", "engine/signs.py", "files/signs"),
               ("tests/engine/review", "tests/files/signs", "tests/engine/report",
                "tests/sheets/test_letter_faces.py", "tests/cli/test_review_command.py",
                "tests/verbs/test_letters.py")),
    "safety": (("engine/review/safety.py", "engine/review/safety_proposals.py",
                "engine/review/case.py", "engine/review/swaps.py", "engine/review/attention.py",
                "engine/screening.py", "engine/pain.py"),
               ("tests/engine/review", "tests/files/signs",
                "tests/engine/test_screening_answers.py")),
    "planning": (("engine/planning",), ("tests/engine/planning",)),
    "editing": (("engine/editing",), ("tests/engine/editing", "tests/verbs/test_search_block.py",
                                     "tests/web/test_typed_block.py")),
    "case": (("engine/case.py",), ("tests/engine/test_case.py", "tests/verbs/test_one_belief.py")),
    "store": (("store",), ("tests/store/test_facts.py", "tests/store/test_letters_kept.py",
                           "tests/store/test_one_lifter_alone.py",
                           "tests/store/test_archive_rows.py", "tests/verbs",
                           "tests/server/test_backup.py", "tests/api/test_sync.py",
                           "tests/web/test_database_trouble.py",
                           "tests/web/test_access.py", "tests/web/test_sharing.py",
                           "tests/web/test_partner_sees.py", "tests/web/test_home_page.py")),
    "accounts": (("accounts",), ("tests/accounts", "tests/web/test_account.py")),
    "verbs": (("verbs",), ("tests/verbs", "tests/api/test_sync.py", "tests/api/test_phone.py",
                           "tests/api/test_desk_verbs.py", "tests/web", "tests/cli")),
}  # fmt: skip
"""By name: what is changed, below `src/blockwright`, and the tests that should notice."""

# ------------------------------------------------------------------------------------ mutants

FLIPPED: Mapping[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq, ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
}  # fmt: skip
SWAPPED: Mapping[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult,
}  # fmt: skip
SILENT = (
    "dataclass", "field", "Problem", "BadInput", "of", "TypeVar", "CharField", "TextField",
    "UUIDField", "BooleanField", "IntegerField", "FloatField", "JSONField", "DateField",
    "DateTimeField", "ForeignKey", "OneToOneField", "PositiveIntegerField", "BigAutoField",
    "UniqueConstraint", "Index",
)  # fmt: skip
"""Calls whose keywords are words or declarations: leaving one out tells nothing of behaviour."""


@dataclass(frozen=True)
class Mutant:
    """One change. `place` counts the changes of a file, in the order of its syntax."""

    file: Path
    line: int
    place: int
    what: str

    @property
    def name(self) -> str:
        return f"{self.file.relative_to(SOURCE)}:{self.line} {self.what}"


class _Changer(ast.NodeTransformer):
    """Walks a module; lists every change, or makes the one numbered `wanted`."""

    def __init__(self, wanted: int | None = None) -> None:
        self.wanted, self.count = wanted, 0
        self.found: list[tuple[int, str]] = []

    def offer(self, node: ast.AST, what: str) -> bool:
        """Notes a change; whether it is the one to make."""
        self.found.append((getattr(node, "lineno", 0), what))
        self.count += 1
        return self.wanted == self.count - 1

    def visit_Compare(self, node: ast.Compare) -> ast.AST:
        self.generic_visit(node)
        for at, op in enumerate(node.ops):
            flipped = FLIPPED.get(type(op))
            if flipped and self.offer(node, f"flip {type(op).__name__}: {ast.unparse(node)}"):
                node = copy.deepcopy(node)
                node.ops[at] = flipped()
        return node

    def visit_BoolOp(self, node: ast.BoolOp) -> ast.AST:
        self.generic_visit(node)
        said = ast.unparse(node)
        for at, value in enumerate(node.values):
            if self.offer(value, f"drop term {at + 1} of: {said}"):
                rest = [other for other in node.values if other is not value]
                return rest[0] if len(rest) == 1 else ast.BoolOp(node.op, rest)
        return node

    def visit_BinOp(self, node: ast.BinOp) -> ast.AST:
        self.generic_visit(node)
        swapped = SWAPPED.get(type(node.op))
        if swapped and not _is_text(node) and self.offer(node, f"swap: {ast.unparse(node)}"):
            return ast.BinOp(node.left, swapped(), node.right)
        return node

    def visit_Constant(self, node: ast.Constant) -> ast.AST:
        if type(node.value) is int and self.offer(node, f"off by one: {node.value}"):
            return ast.Constant(node.value + 1)
        return node

    def visit_UnaryOp(self, node: ast.UnaryOp) -> ast.AST:
        self.generic_visit(node)
        if isinstance(node.op, ast.Not) and self.offer(node, f"drop not: {ast.unparse(node)}"):
            return node.operand
        return node

    def _guard(self, node: Any) -> Any:
        self.generic_visit(node)
        simple = not isinstance(node.test, ast.Compare | ast.UnaryOp)
        if simple and self.offer(node.test, f"negate: {ast.unparse(node.test)}"):
            node.test = ast.UnaryOp(ast.Not(), node.test)
        return node

    visit_If = visit_IfExp = visit_While = _guard  # noqa: N815

    def visit_comprehension(self, node: ast.comprehension) -> ast.AST:
        self.generic_visit(node)
        for condition in list(node.ifs):
            if self.offer(condition, f"drop condition: {ast.unparse(condition)}"):
                node.ifs = [other for other in node.ifs if other is not condition]
        return node

    def visit_Call(self, node: ast.Call) -> ast.AST:
        if _called(node) in SILENT:
            return node
        self.generic_visit(node)
        for keyword in list(node.keywords):
            said = f"drop keyword {keyword.arg} of {_called(node)}"
            # `strict` only tells of lengths that differ: leaving it out changes nothing else.
            if keyword.arg not in (None, "strict") and self.offer(keyword.value, said):
                node.keywords = [other for other in node.keywords if other is not keyword]
        return node

    def visit_Expr(self, node: ast.Expr) -> ast.AST:
        if isinstance(node.value, ast.Constant):  # a docstring
            return node
        self.generic_visit(node)
        if isinstance(node.value, ast.Call) and self.offer(node, f"drop: {ast.unparse(node)[:70]}"):
            return ast.Pass()
        return node

    def visit_AnnAssign(self, node: ast.AnnAssign) -> ast.AST:
        if node.value is not None:
            node.value = self.visit(node.value)
        return node

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.AST:
        node.body = [self.visit(one) for one in node.body]
        node.args.defaults = [self.visit(one) for one in node.args.defaults]
        return node

    def visit_ClassDef(self, node: ast.ClassDef) -> ast.AST:
        if node.name not in ("Meta", "Migration"):
            node.body = [self.visit(one) for one in node.body]
        return node

    def visit_JoinedStr(self, node: ast.JoinedStr) -> ast.AST:
        return node

    def visit_Assert(self, node: ast.Assert) -> ast.AST:
        return node


def _called(node: ast.Call) -> str:
    return str(getattr(node.func, "attr", getattr(node.func, "id", "")))


def _is_text(node: ast.BinOp) -> bool:
    return any(
        isinstance(side, ast.JoinedStr | ast.List | ast.Tuple)
        or (isinstance(side, ast.Constant) and isinstance(side.value, str))
        for side in (node.left, node.right)
    )


def mutants_of(file: Path) -> list[Mutant]:
    """Every change of a file."""
    changer = _Changer()
    changer.visit(ast.parse(file.read_text(encoding="utf-8")))
    return [Mutant(file, line, at, what) for at, (line, what) in enumerate(changer.found)]


def mutated(mutant: Mutant) -> ast.Module:
    """The file's syntax with the change made."""
    tree = _Changer(mutant.place).visit(ast.parse(mutant.file.read_text(encoding="utf-8")))
    return ast.fix_missing_locations(tree)  # type: ignore[no-any-return]


# ------------------------------------------------------------------------------ a run of tests


class _Finder(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Imports the changed file in place of the one on disk."""

    def __init__(self, file: Path, code: Any) -> None:
        parts = file.relative_to(SOURCE.parent).with_suffix("").parts
        self.name = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
        self.file, self.code = file, code

    def find_spec(self, name: str, path: Any, target: Any = None) -> Any:
        if name != self.name:
            return None
        where = [str(self.file.parent)] if self.file.stem == "__init__" else None
        return importlib.util.spec_from_file_location(
            name, self.file, loader=self, submodule_search_locations=where
        )

    def exec_module(self, module: ModuleType) -> None:
        exec(compile(self.code, str(self.file), "exec"), module.__dict__)


@dataclass(frozen=True)
class Trial:
    """Tests to run with `file` changed to `code`."""

    tests: Sequence[str]
    file: Path
    code: Any


def run(trials: Sequence[Trial]) -> list[str]:
    """killed or survived, of each: in a process of its own, as many at once as there are cores."""
    loaded = [trial for trial in trials if _changed_functions(trial)]
    anew = [trial for trial in trials if trial not in loaded]
    outcomes = iter(_all_of(anew)), iter(_with_ours_loaded(loaded))
    return [next(outcomes[trial in loaded]) for trial in trials]


def _with_ours_loaded(trials: Sequence[Trial]) -> list[str]:
    """Tried from a process that has the program loaded; this one stays without."""
    reads, writes = os.pipe()
    child = os.fork()
    if child == 0:
        _load_ours()
        os.write(writes, json.dumps(_all_of(trials)).encode())
        os._exit(0)
    os.close(writes)
    with os.fdopen(reads, encoding="utf-8") as answer:
        found = answer.read()
    os.waitpid(child, 0)
    return list(json.loads(found))


def _all_of(trials: Sequence[Trial]) -> list[str]:
    found: dict[int, str] = {}
    running: dict[int, tuple[int, float]] = {}
    waiting = list(enumerate(trials))
    while waiting or running:
        while waiting and len(running) < AT_ONCE:
            at, trial = waiting.pop(0)
            running[_started(trial)] = at, time.monotonic() + MOST_WAIT_S
        for child, (at, ends) in list(running.items()):
            if outcome := _outcome(child, ends):
                found[at] = outcome
                del running[child]
        time.sleep(0.02)
    return [found[at] for at in range(len(trials))]


def _started(trial: Trial) -> int:
    child = os.fork()
    if child == 0:
        _quiet()
        resource.setrlimit(resource.RLIMIT_CPU, (MOST_S, MOST_S + 1))
        changed = _changed_functions(trial)
        for one in gc.get_objects() if "blockwright" in sys.modules else ():
            if isinstance(one, FunctionType) and one.__code__.co_filename == str(trial.file):
                one.__code__ = changed.get(one.__code__, one.__code__)
        sys.meta_path.insert(0, _Finder(trial.file, trial.code))
        os._exit(_pytest(["-x", *trial.tests]))
    return child


def _changed_functions(trial: Trial) -> Mapping[CodeType, CodeType]:
    """By each function of the file what the change makes of it; empty where more than functions
    changed, so that the file must be imported anew."""
    tree = ast.parse(trial.file.read_text(encoding="utf-8"))
    was, now = (list(_codes(compile(t, str(trial.file), "exec"))) for t in (tree, trial.code))
    if [_place(code) for code in was] != [_place(code) for code in now]:
        return {}
    pairs = list(zip(was, now, strict=True))
    if any(_own(a) != _own(b) for a, b in pairs if not a.co_flags & inspect.CO_NEWLOCALS):
        return {}
    return {a: b for a, b in pairs if a.co_flags & inspect.CO_NEWLOCALS}


def _codes(code: CodeType) -> Iterator[CodeType]:
    """A module's code and that of all that is written in it, in its order."""
    yield code
    for inner in code.co_consts:
        if isinstance(inner, CodeType):
            yield from _codes(inner)


def _place(code: CodeType) -> tuple[str, tuple[str, ...]]:
    return code.co_qualname, code.co_freevars


def _own(code: CodeType) -> tuple[object, ...]:
    """What a body does itself, without what is written in it."""
    own = [c if not isinstance(c, CodeType) else None for c in code.co_consts]
    return code.co_code, code.co_names, [(type(c), c) for c in own]


def _outcome(child: int, ends: float) -> str | None:
    """None while it runs."""
    done, status = os.waitpid(child, os.WNOHANG)
    if done:
        return "survived" if os.waitstatus_to_exitcode(status) == 0 else "killed"
    if time.monotonic() < ends:
        return None
    os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return "killed"


def _quiet() -> None:
    os.setpgrp()
    nowhere = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(nowhere, stream)


def _pytest(words: list[str], plugins: Sequence[object] = ()) -> int:
    import pytest

    always = ["-q", "-p", "no:cacheprovider", "-p", "no:xdist", "--no-header", "-W", "default"]
    return int(pytest.main([*always, *words], plugins=list(plugins)))


class _Watcher:
    """Notes which test runs while a line is seen, and how much of the processor each takes: by the
    clock every test of a busy machine is slow, and few of them would be chosen."""

    def __init__(self, coverage: Any) -> None:
        self.coverage = coverage
        self.seconds: dict[str, float] = {}
        self._began_s = 0.0

    def pytest_runtest_logstart(self, nodeid: str) -> None:
        self.coverage.switch_context(nodeid)
        self._began_s = time.process_time()

    def pytest_runtest_logfinish(self, nodeid: str) -> None:
        self.seconds[nodeid] = time.process_time() - self._began_s


Seen = Mapping[str, Mapping[str, list[str]]]
"""By file below the source, by line: the tests that run it, the fastest first."""


def seen_by(area: str) -> Seen:
    """Which test sees which line; kept until the source or the tests change."""
    kept = KEPT / f"{area}.json"
    files = [*SOURCE.rglob("*.py"), *(ROOT / "tests").rglob("*.py")]
    if not kept.exists() or kept.stat().st_mtime < max(file.stat().st_mtime for file in files):
        KEPT.mkdir(parents=True, exist_ok=True)
        child = os.fork()
        if child == 0:
            _quiet()
            os._exit(_watch(area, kept))
        os.waitpid(child, 0)
        if not kept.exists():
            raise SystemExit(f"{area}: its tests fail without any mutant")
    return json.loads(kept.read_text(encoding="utf-8"))  # type: ignore[no-any-return]


def _watch(area: str, kept: Path) -> int:
    from coverage import Coverage

    paths, tests = AREAS[area]
    watched = Coverage(
        data_file=None,
        include=[str(file) for path in paths for file in _files(path)],
        config_file=False,
    )
    watcher = _Watcher(watched)
    watched.start()
    code = _pytest([test for test in tests if (ROOT / test).exists()], [watcher])
    watched.stop()
    if code != 0:
        return code
    data = watched.get_data()
    seen = {file: data.contexts_by_lineno(file) for file in data.measured_files()}
    wide = Counter(name for lines in seen.values() for names in lines.values() for name in names)
    found: dict[str, dict[str, list[str]]] = {}
    for file, lines in seen.items():
        here = found.setdefault(str(Path(file).relative_to(SOURCE)), {})
        for line, names in lines.items():
            chosen = _chosen([n for n in names if n in watcher.seconds], watcher.seconds, wide)
            # A line of the module itself runs at its import: its mirror is asked.
            here[str(line)] = chosen or [test for test in tests[:1] if (ROOT / test).exists()]
    kept.write_text(json.dumps(found), encoding="utf-8")
    return 0


def _chosen(
    names: Sequence[str], seconds: Mapping[str, float], wide: Mapping[str, int]
) -> list[str]:
    """Of the tests that see a line the fastest and the widest, in a third of a mutant's time."""
    fast = sorted(names, key=lambda name: seconds[name])
    widest = sorted(fast[MOST_TESTS - WIDEST :], key=lambda name: -wide[name])[:WIDEST]
    found, left = [], MOST_S / 3
    for name in (*fast[: MOST_TESTS - WIDEST], *widest):
        if seconds[name] <= left:
            found.append(name)
            left -= seconds[name]
    return sorted(found, key=lambda name: seconds[name])


def _files(path: str) -> Iterator[Path]:
    where = SOURCE / path
    if where.is_file():
        yield where
    for file in sorted(where.rglob("*.py")) if where.is_dir() else ():
        if "migrations" not in file.parts:
            yield file


# -------------------------------------------------------------------------------- what is asked


def judged(mutants: Sequence[Mutant], seen: Seen) -> list[str]:
    """killed, survived or unseen (no test runs the line), of each."""
    tests = [
        seen.get(str(mutant.file.relative_to(SOURCE)), {}).get(str(mutant.line), [])
        for mutant in mutants
    ]
    tried = iter(
        run([Trial(t, m.file, mutated(m)) for m, t in zip(mutants, tests, strict=True) if t])
    )
    return [next(tried) if one else "unseen" for one in tests]


def area_report(area: str, share: float, seed: int, most: int | None) -> tuple[int, int]:
    """Tells the survivors of an area; how many were killed, of how many."""
    seen = seen_by(area)
    mutants = [m for path in AREAS[area][0] for file in _files(path) for m in mutants_of(file)]
    chance = random.Random(seed)
    count = max(round(share * len(mutants)), 1) if most is None else min(most, len(mutants))
    chosen = sorted(chance.sample(mutants, count), key=lambda m: (str(m.file), m.place))
    found = judged(chosen, seen)
    for mutant, outcome in zip(chosen, found, strict=True):
        if outcome != "killed":
            _tell(f"{area}: {outcome}: {mutant.name}")
    killed = found.count("killed")
    _tell(f"{area}: {killed} of {count} killed ({killed / count:.0%}); {len(mutants)} in all")
    return killed, count


def named() -> list[str]:
    """The named mutants that survive, or whose text is no longer in the source."""
    listed = tomllib.loads((ROOT / "tools" / "named_mutants.toml").read_text(encoding="utf-8"))
    wrong, trials, names = [], [], []
    for one in listed["mutant"]:
        file = SOURCE / one["file"]
        text = file.read_text(encoding="utf-8") if file.exists() else ""
        if text.count(one["is"]) != 1:
            wrong.append(f"{one['what']}: {one['file']} has no single `{one['is']}`; name it anew")
            continue
        trials.append(Trial(one["tests"], file, ast.parse(text.replace(one["is"], one["becomes"]))))
        names.append(f"{one['what']}: survives {', '.join(one['tests'])}")
    found = zip(names, run(trials), strict=True)
    return wrong + [name for name, outcome in found if outcome != "killed"]


def mirrors_report(count: int, seed: int) -> bool:
    """One mutant in each of `count` files that a test file of the same name mirrors, drawn by
    `seed`, against that file alone; tells the survivors. False where fewer than one in four was
    killed, which is no bad luck: a mirror alone kills about six in ten (30 drawn)."""
    mirrors = {
        file: str(test.relative_to(ROOT))
        for file in _files("")
        if (test := ROOT / "tests" / file.relative_to(SOURCE).parent / f"test_{file.name}").exists()
    }
    chance = random.Random(seed)
    chosen = chance.sample(sorted(file for file in mirrors if mutants_of(file)), count)
    mutants = [chance.choice(mutants_of(file)) for file in chosen]
    found = run([Trial([mirrors[m.file]], m.file, mutated(m)) for m in mutants])
    for mutant, outcome in zip(mutants, found, strict=True):
        if outcome != "killed":
            _tell(f"{outcome}: {mutant.name}")
    killed = found.count("killed")
    _tell(f"mirrors, seed {seed}: {killed} of {count} killed")
    return 4 * killed >= count


def commit_seed() -> int:
    """The commit as a number; 0 outside a checkout."""
    said = subprocess.run(
        ["git", "rev-parse", "HEAD"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    return int(said.stdout[:8] or "0", 16)


def _tell(text: str) -> None:
    sys.stdout.write(text + "\n")
    sys.stdout.flush()


def _load_libraries() -> None:
    """Loaded once, before the forks; nothing of ours is among them."""
    sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests"), str(ROOT)]
    os.chdir(ROOT)
    for name in ("pytest", "numpy", "ortools.sat.python.cp_model", "django.test", "hypothesis"):
        importlib.import_module(name)


def _load_ours() -> None:
    """The program whole, as tests have it."""
    import django

    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "site_settings")
    django.setup()
    import blockwright

    for found in pkgutil.walk_packages(blockwright.__path__, "blockwright."):
        if not found.name.endswith("__main__") and ".migrations" not in found.name:
            importlib.import_module(found.name)


def main(words: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description="Do the tests notice a changed program?")
    parser.add_argument("areas", nargs="*", help=f"of {', '.join(AREAS)}; all without any")
    parser.add_argument("--share", type=float, default=1.0, help="of an area's mutants")
    parser.add_argument("--most", type=int, help="mutants an area, in place of a share")
    parser.add_argument("--seed", type=int, help="of the sample; else 0, of --mirrors the commit")
    parser.add_argument("--mirrors", type=int, help="so many files' mutants, each by its own test")
    parser.add_argument("--named", action="store_true", help="the list that must be killed")
    asked = parser.parse_args(words)
    _load_libraries()
    if asked.named:
        wrong = named()
        for line in wrong:
            _tell(line)
        return 1 if wrong else 0
    if asked.mirrors:
        seed = commit_seed() if asked.seed is None else asked.seed
        return 0 if mirrors_report(asked.mirrors, seed) else 1
    found = [
        area_report(area, asked.share, asked.seed or 0, asked.most) for area in asked.areas or AREAS
    ]
    killed, count = (sum(column) for column in zip(*found, strict=True))
    _tell(f"all: {killed} of {count} killed ({killed / count:.0%})")
    return 0


if __name__ == "__main__":
    sys.exit(main())
