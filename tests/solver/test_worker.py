"""The warm worker as a real process: plans, stops, stale runs, broken lines, and its end."""

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from shared.job import Job
from shared.lengths import INCH
from shared.saw import verify
from solver.budget.stop import Budget
from solver.line import surroundings
from solver.outcome import EndReason
from solver.run import run
from solver.wire import (
    ANSWERS,
    REQUESTS,
    AdviseRequest,
    Answer,
    BetterAnswer,
    DoneAnswer,
    FailedAnswer,
    ForcingAnswer,
    LookedAnswer,
    PlanRequest,
    ReadyAnswer,
    Request,
    StopRequest,
    SuggestionAnswer,
)
from tests.solver.some_jobs import job, part, sheet

JOB = job(part("a", 20 * INCH, 10 * INCH, 9), part("b", 31 * INCH, 7 * INCH, 8), sheet())
LONG = Budget(time_s=60.0)
SHORT = Budget(time_s=None, work=5)


class Planner:
    """A worker process and the lines to and from it."""

    def __init__(self) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "solver"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            env=surroundings(),
        )

    def send(self, line: Request | bytes) -> None:
        """Send a request, or any line."""
        assert self.process.stdin is not None
        self.process.stdin.write(line if isinstance(line, bytes) else REQUESTS.encode(line))
        self.process.stdin.flush()

    def plan(self, run: int, what: Job = JOB, limits: Budget = LONG) -> None:
        """Ask for a plan."""
        self.send(PlanRequest(run=run, job=what, limits=limits))

    def hear(self) -> Answer:
        """Return the next answer."""
        assert self.process.stdout is not None
        return ANSWERS.decode(self.process.stdout.readline())

    def hear_until(self, kind: type, run: int) -> list[Answer]:
        """Return all answers up to the first of that kind for that run."""
        heard: list[Answer] = []
        while not heard or not isinstance(heard[-1], kind) or getattr(heard[-1], "run", 0) != run:
            heard.append(self.hear())
        return heard

    def close(self) -> int:
        """End its input; return how it ended."""
        assert self.process.stdin is not None
        self.process.stdin.close()
        return self.process.wait(timeout=20)


@contextmanager
def planner() -> Iterator[Planner]:
    """Start a worker, wait until it is ready, and make sure that it ends."""
    one = Planner()
    try:
        assert isinstance(one.hear(), ReadyAnswer)
        yield one
    finally:
        one.process.kill()
        one.process.wait()
        for pipe in (one.process.stdin, one.process.stdout, one.process.stderr):
            assert pipe is not None
            pipe.close()


@pytest.fixture(name="worker", scope="module")
def one_worker() -> Iterator[Planner]:
    """One warm worker for several tests, as the window has it."""
    with planner() as one:
        yield one


def test_requests_and_answers_come_back_as_they_were() -> None:
    """What is encoded is decoded to the same value."""
    request = PlanRequest(run=3, job=JOB, limits=LONG)
    assert REQUESTS.decode(REQUESTS.encode(request)) == request
    assert ANSWERS.decode(REQUESTS.encode(ReadyAnswer())) == ReadyAnswer()


def test_a_run_ends_with_a_plan_that_can_be_sawn(worker: Planner) -> None:
    """Better plans of the asked number, then one that it is done."""
    worker.plan(1, limits=SHORT)
    heard = worker.hear_until(DoneAnswer, 1)
    plans = [one.event.plan for one in heard if isinstance(one, BetterAnswer)]
    assert verify(plans[-1]) == ()
    assert len(plans[-1].placements) == 17
    assert {getattr(one, "run", 1) for one in heard} == {1}


def test_a_stop_ends_the_run_it_names(worker: Planner) -> None:
    """A stop with another number is ignored; the right one ends the run with its plan."""
    worker.plan(2)
    worker.hear_until(BetterAnswer, 2)
    worker.send(StopRequest(run=99))
    worker.send(StopRequest(run=2))
    done = worker.hear_until(DoneAnswer, 2)[-1]
    assert isinstance(done, DoneAnswer)
    assert done.event.reason is EndReason.STOPPED


def test_advice_comes_as_it_is_found(worker: Planner) -> None:
    """What forces the last sheet, a change whose plan can be sawn, and that it is over."""
    tight = job(part("half", 96 * INCH, 24 * INCH, 2), sheet())
    plan = run(tight, Budget(time_s=0.0), lambda _: None)
    assert plan is not None
    worker.send(AdviseRequest(run=20, job=tight, plan=plan, limits=Budget(time_s=10.0)))
    heard = worker.hear_until(LookedAnswer, 20)
    assert any(isinstance(one, ForcingAnswer) for one in heard)
    found = [one.event for one in heard if isinstance(one, SuggestionAnswer)]
    assert found
    assert all(verify(one.plan) == () and one.sheets == 1 for one in found)


def test_a_new_run_ends_the_advice(worker: Planner) -> None:
    """Who asks for a plan while it is looked for advice gets the plan; the look is stopped."""
    plan = run(JOB, Budget(time_s=0.0), lambda _: None)
    assert plan is not None
    worker.send(AdviseRequest(run=21, job=JOB, plan=plan, limits=LONG))
    worker.plan(22, limits=SHORT)
    heard = worker.hear_until(DoneAnswer, 22)
    [looked] = [one for one in heard if isinstance(one, LookedAnswer)]
    assert looked.run == 21


def test_a_new_run_takes_the_place_of_the_old(worker: Planner) -> None:
    """Without a stop in between the old run ends, and the new one is planned."""
    worker.plan(3)
    worker.hear_until(BetterAnswer, 3)
    worker.plan(4, limits=SHORT)
    heard = worker.hear_until(DoneAnswer, 4)
    assert any(isinstance(one, DoneAnswer) and one.run == 3 for one in heard)
    plans = [one for one in heard if isinstance(one, BetterAnswer) and one.run == 4]
    assert len(plans[-1].event.plan.placements) == 17


def test_of_several_runs_asked_at_once_the_last_is_planned(worker: Planner) -> None:
    """Runs that are stale by then end as stopped; each number is answered once."""
    worker.send(b"".join(REQUESTS.encode(PlanRequest(run=n, job=JOB, limits=LONG)) for n in (5, 6)))
    worker.plan(7, limits=SHORT)
    heard = worker.hear_until(DoneAnswer, 7)
    ends = [(one.run, one.event.reason) for one in heard if isinstance(one, DoneAnswer)]
    assert ends[:2] == [(5, EndReason.STOPPED), (6, EndReason.STOPPED)]
    assert [run for run, _ in ends] == [5, 6, 7]
    assert any(isinstance(one, BetterAnswer) and one.run == 7 for one in heard)


@pytest.mark.parametrize(
    "line",
    [b"\n", b"hello\n", b"[]\n", b'{"do":"plan","v":2,"run":1}\n', b'{"do":"dance","run":1}\n'],
)
def test_a_line_that_is_no_request_is_answered_and_survived(worker: Planner, line: bytes) -> None:
    """The worker says that it did not understand, and plans on."""
    worker.send(line)
    answer = worker.hear()
    assert isinstance(answer, FailedAnswer)
    assert answer.run == -1
    worker.plan(8, limits=SHORT)
    worker.hear_until(DoneAnswer, 8)


def test_an_empty_job_is_answered(worker: Planner) -> None:
    """A job without parts gives an empty plan and the reason."""
    worker.plan(9, job(sheet()), SHORT)
    done = worker.hear_until(DoneAnswer, 9)[-1]
    assert isinstance(done, DoneAnswer)
    assert done.event.reason is EndReason.EMPTY


def test_the_worker_ends_when_its_input_ends() -> None:
    """It ends in order even in the middle of a run."""
    with planner() as one:
        one.plan(1)
        one.hear_until(BetterAnswer, 1)
        assert one.close() == 0


def test_its_mates_end_with_it() -> None:
    """Killed in the middle of a run with a worker, it leaves no process behind its pipe."""
    with planner() as one:
        one.plan(1, limits=Budget(time_s=60.0, workers=2))
        one.hear_until(BetterAnswer, 1)
        one.process.kill()
        # Standard error is shared with the worker, so it ends only when both are gone.
        assert one.process.stderr is not None
        one.process.stderr.read()
        assert one.process.wait(timeout=20) != 0


def test_nothing_but_messages_comes_out() -> None:
    """What a library prints on standard output goes to the log, not between the answers."""
    said = subprocess.run(
        [
            sys.executable,
            "-c",
            "import os; from solver.line import claim_output; line = claim_output();"
            "print('log', flush=True); os.write(1, b'native\\n'); line.write(b'message\\n')",
        ],
        capture_output=True,
        check=True,
        env=surroundings(),
    )
    assert said.stdout == b"message\n"
    assert said.stderr.split() == [b"log", b"native"]


REPEAT = """
import hashlib, msgspec
from solver.run import run
from solver.budget.stop import Budget
from tests.solver.test_worker import JOB
plan = run(JOB, Budget(time_s=None, work=300, seed=7), lambda event: None)
print(hashlib.sha256(msgspec.json.encode(plan)).hexdigest(), len(plan.cuts))
"""


def test_the_same_seed_and_work_give_the_same_plan_in_another_process() -> None:
    """Byte for byte, whatever order the hashes of this process happen to have."""
    said = [
        subprocess.run(
            [sys.executable, "-c", REPEAT],
            capture_output=True,
            check=True,
            env=surroundings() | {"PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2")
    ]
    assert said[0] == said[1]
    assert said[0]
