"""Equal values are held once, and what is given back says the same as what was given."""

from __future__ import annotations

from builder.model.sharing import Sharing
from builder.model.units import Range
from builder.proof.jobs import Job, Ready, work_out
from tests.demo import library


def test_equal_values_become_one_and_stay_equal() -> None:
    sharing = Sharing()
    first, second = Range(4.0, 6.0), Range(4.0, 6.0)
    assert sharing.of(first) is sharing.of(second)
    assert sharing.of((first, "a" * 3)) is sharing.of((second, "".join(["aa", "a"])))
    assert sharing.of((first,)) is not sharing.of((Range(4.0, 7.0),))


def test_what_is_equal_but_of_another_type_stays_apart() -> None:
    sharing = Sharing()
    kinds = [type(sharing.of((one,))[0]) for one in (1, True, 1.0, "1", None)]
    assert kinds == [int, bool, float, str, type(None)]


def test_a_job_says_the_same_and_keeps_the_records_of_the_library() -> None:
    sharing = Sharing()
    for name in ("heron", "kestrel", "heron"):
        job = Job(guide=library().guides["mudguards-fitted"], bike=library().bikes[name])
        held = sharing.of(work_out(job, library()))
        assert held == work_out(job, library())
        assert isinstance(held, Ready)
        assert held.job.guide is job.guide
        assert held.job.bike is job.bike
        again = sharing.of(work_out(job, library()))
        assert isinstance(again, Ready)
        assert again.tailored.steps
        assert all(one is other for one, other in zip(again.tailored.steps, held.tailored.steps, strict=True))
