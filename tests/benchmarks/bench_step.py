"""How long a step takes on the shipped knowledge, and how the engine compares with pyAgrum. Run it as a script.

Every figure is a median over several sets of answers, on this machine, in this run. pyAgrum gets the same network with
its large noisy-ORs split (it could not hold them otherwise), and only sets of answers that it can do.
"""

from __future__ import annotations

import os
import platform
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import TypeVar

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

import numpy as np  # noqa: E402
import pyagrum as gum  # noqa: E402
from oracles.agrum import agrum_engine, agrum_evidence, agrum_net  # noqa: E402
from oracles.cases import a_case, some_evidence  # noqa: E402

from diagnose.casework.assess import assess  # noqa: E402
from diagnose.casework.model import Model, model_of  # noqa: E402
from diagnose.corpus.load import load  # noqa: E402
from diagnose.inference.evidence import Observed  # noqa: E402
from diagnose.inference.network import Evidence, Likelihood  # noqa: E402
from diagnose.inference.posterior import present  # noqa: E402
from diagnose.inference.questions import Gain, Question, gains  # noqa: E402
from diagnose.inference.structure import structure_of  # noqa: E402

T = TypeVar("T")

RIGHT = 0.9
COMPARED_SETS = 5

MEMORY = 6 << 30
"""Bytes that the comparison may take."""
SETS = 20
CAUSES_IN_PLAY = 25


def timed(work: Callable[[], T]) -> tuple[float, T]:
    begun = time.perf_counter()
    result = work()
    return time.perf_counter() - begun, result


def bits(chances: list[float]) -> float:
    p = np.clip(np.array(chances), 1e-300, 1.0)
    q = np.clip(1.0 - p, 1e-300, 1.0)
    return float(-(p * np.log2(p) + q * np.log2(q)).sum())


class Agrum:
    """The gain of every question with pyAgrum: condition on each answer, read the causes in play."""

    def __init__(self, net: gum.BayesNet, engine: type, evidence: Evidence, in_play: list[str]) -> None:
        self.engine = engine(net)
        self.engine.setTargets(set(in_play))
        self.engine.setEvidence(agrum_evidence(evidence))
        self.in_play = in_play
        self.engine.makeInference()
        self.now = self.read()

    def read(self) -> list[float]:
        return [float(self.engine.posterior(name)[1]) for name in self.in_play]

    def after(self, about: str, answer: Likelihood) -> list[float]:
        self.engine.addEvidence(about, list(answer))
        self.engine.makeInference()
        found = self.read()
        self.engine.eraseEvidence(about)
        return found

    def gain(self, about: str, yes: float) -> float:
        answers = ((yes, Likelihood(1.0 - RIGHT, RIGHT)), (1.0 - yes, Likelihood(RIGHT, 1.0 - RIGHT)))
        return bits(self.now) - sum(chance * bits(self.after(about, answer)) for chance, answer in answers)


def width_by_cause(net: gum.BayesNet, evidence: Evidence, in_play: list[str], asked: list[Question]) -> int:
    """Most nodes in one clique if pyAgrum were to read all questions at once, conditioned on each cause in play in turn.

    That would take the fewest queries we know of; but every question then has to be in the junction tree.
    """
    engine = gum.LazyPropagation(net)
    engine.setTargets({*in_play, *(question.about for question in asked)})
    engine.setEvidence(agrum_evidence(evidence))
    tree = engine.junctionTree()
    return max(len(tree.clique(clique)) for clique in tree.nodes())


def compare(model: Model) -> None:
    """(a) `present` and the gain of every possible question, against pyAgrum."""
    # A question may tie so much together that pyAgrum takes all memory there is; it is refused the last of it.
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    net = agrum_net(model.network, 4)
    print(
        f"\n(a) present, and the gain of every possible next question: {COMPARED_SETS} sets of 2-5 yes, 0-6 other answers"
    )
    rows, seed = [], 0
    while len(rows) < COMPARED_SETS:
        rng = Random(seed)
        seed += 1
        evidence = model.evidence(a_case(rng, model, rng.randint(2, 5), rng.randint(0, 6)).answers)
        if agrum_engine(model.network, evidence) is None:
            continue
        above = model.network.ancestors(evidence)
        found = present(Observed(model.network, evidence))[0]
        ranked = sorted((name for name in found if name in above), key=lambda name: -found[name])
        in_play = ranked[:CAUSES_IN_PLAY]
        asked = [
            Question(name, RIGHT)
            for name in [*model.causes, *model.signs]
            if name not in evidence and model.network.ancestors([name]) & above
        ]

        def ours(
            evidence: Evidence = evidence, asked: list[Question] = asked, in_play: list[str] = in_play
        ) -> list[Gain]:
            structure_of.cache_clear()
            observed = Observed(model.network, evidence)
            present(observed)
            return gains(observed, asked, in_play)

        timings = [timed(ours) for _ in range(5)]
        own, result = statistics.median(seconds for seconds, _ in timings), timings[0][1]
        theirs = {}
        for engine, share in ((gum.LazyPropagation, 1), (gum.ShaferShenoyInference, 8), (gum.VariableElimination, 8)):
            # The slower engines are timed on every eighth question, and the time is multiplied.
            some = list(zip(asked, result, strict=True))[::share]

            def other(engine: type = engine, some: list[tuple[Question, Gain]] = some) -> list[float]:
                agrum = Agrum(net, engine, evidence, in_play)  # noqa: B023
                return [agrum.gain(question.about, gain.yes) for question, gain in some]

            try:
                seconds, values = timed(other)
            except Exception as error:  # pyAgrum hands the lack of memory on as a bare Exception
                if "bad_alloc" not in str(error) and not isinstance(error, MemoryError):
                    raise
                break
            theirs[engine.__name__] = seconds * share
            worst = max(abs(value - gain.bits) for value, (_, gain) in zip(values, some, strict=True))
            assert worst < 1e-6, f"{engine.__name__} differs by {worst} bits"
        if len(theirs) < 3:
            print(f"    {len(evidence):2d} answers: pyAgrum ran out of {MEMORY >> 30} GB; left out", flush=True)
            continue
        # Half of the queries could be saved: the posterior after a no follows from those before and after a yes.
        theirs["LazyPropagation, no by subtraction (reckoned as half)"] = theirs["LazyPropagation"] / 2.0
        rows.append((own, theirs))
        print(f"    {len(evidence):2d} answers, {len(asked)} questions: ours {own * 1e3:6.1f} ms; ", end="")
        print(
            "; ".join(f"{name} {seconds:.2f} s = {seconds / own:.0f}x" for name, seconds in theirs.items()), flush=True
        )
        print(
            f"       all questions at once: a clique of {width_by_cause(net, evidence, in_play, asked)} nodes, not tried"
        )
    for name in rows[0][1]:
        ratios = [theirs[name] / own for own, theirs in rows]
        target = "   (target >= 20x)" if name == "LazyPropagation" else ""
        print(f"    {name}: median {statistics.median(ratios):.0f}x, least {min(ratios):.0f}x{target}")


def steps(model: Model) -> None:
    """(b) The whole step between two questions."""
    print(f"\n(b) the whole step between two questions, {SETS} sets each")
    for yes, others, unsure, target in (
        (4, 10, 0.0, "150 ms"),
        (8, 10, 0.0, "1 s"),
        (4, 10, 0.7, "1 s"),
        (8, 10, 0.7, "none"),
    ):
        seconds = []
        for seed in range(SETS):
            case = a_case(Random(seed), model, yes, others, unsure=unsure)
            structure_of.cache_clear()
            seconds.append(timed(lambda case=case: assess(model.knowledge, case))[0])  # type: ignore[misc]
        worst, middle = max(seconds) * 1e3, statistics.median(seconds) * 1e3
        print(
            f"    {yes} yes + {others} other, {unsure:.0%} unsure: median {middle:.0f} ms, worst {worst:.0f} ms", end=""
        )
        print(f"   (target for the worst: {target})", flush=True)


def processes(model: Model) -> None:
    """(c) Whole processes."""
    print("\n(c) whole processes, medians of 11 starts")
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}

    def process(*arguments: str) -> float:
        def run() -> None:
            subprocess.run(
                [sys.executable, *arguments], env=environment, cwd=ROOT, capture_output=True, check=True, timeout=60
            )

        run()
        return statistics.median(timed(run)[0] for _ in range(11))

    program = ("-c", "from diagnose.commands.main import run; run()")
    bare, version = process("-c", "pass"), process(*program, "--version")
    print(
        f"    bare interpreter {bare * 1e3:.0f} ms; --version {version * 1e3:.0f} ms = {version / bare:.1f}x   (target <= 3x)"
    )
    case = a_case(Random(2), model, 4, 6)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "case.yaml"
        answers = "\n".join(f"  {name}: '{answer.verdict}'" for name, answer in case.answers.items())
        path.write_text(f"product: {case.product}\nanswers:\n{answers}\n".replace("'", ""), encoding="utf-8")
        rank = process(*program, "rank", str(path), "--format", "json")
    print(f"    rank with the knowledge remembered: {rank * 1e3:.0f} ms   (target < 1 s)")
    full = [
        timed(lambda seed=seed: assess(model.knowledge, a_case(Random(seed), model, 4, 10), full=True))[0]  # type: ignore[misc]
        for seed in range(SETS)
    ]
    print(
        f"    the full outcome behind a report: median {statistics.median(full) * 1e3:.0f} ms, worst {max(full) * 1e3:.0f} ms"
    )


def agreement(model: Model) -> None:
    """(d) How far `present` lies from pyAgrum's."""
    worst, compared, seed = 0.0, 0, 0
    while compared < 50:
        evidence = some_evidence(Random(seed), model)
        seed += 1
        engine = agrum_engine(model.network, evidence)
        if engine is None:
            continue
        engine.makeInference()
        found = present(Observed(model.network, evidence))[0]
        above = model.network.ancestors(evidence)
        for name in model.network.roots:
            if name in above:
                worst = max(worst, abs(found[name] - float(engine.posterior(name)[1])))
        compared += 1
    print(f"\n(d) largest difference of present from pyAgrum over {compared} sets of 1-10 yes: {worst:.1e}")
    print(f"    sets too entangled for pyAgrum: {seed - compared} of {seed}")


def main() -> None:
    knowledge = load()
    model = model_of(knowledge, next(iter(knowledge.products)))
    links = sum(len(node.parents) for node in model.network.nodes.values())
    print(
        f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}, numpy {np.__version__}, ",
        end="",
    )
    print(f"pyAgrum {gum.__version__}")
    print(f"{len(model.causes)} causes, {len(model.mechanisms)} mechanisms, {len(model.signs)} signs, {links} links")
    steps(model)
    processes(model)
    agreement(model)
    compare(model)


if __name__ == "__main__":
    main()
