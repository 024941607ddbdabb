"""Volumes and areas of round and tapered places against numeric integration, slice by slice.

The integrals use no closed formula of the program: a pot is a pile of thin discs, a ring, an oval and a triangle are
strips of chords. Sizes are drawn by hypothesis and printed into requests, so that the whole program is checked.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.answer import Answer
from assistant.ask import ask

SLICES = 4000
#: The midpoint sum over chords goes with the square root at the rim: a few parts in a million with so many slices.
NEAR = 2e-5

FEW = settings(max_examples=25, deadline=None, derandomize=True)


def summed(height_at: Callable[[float], float], start: float, end: float) -> float:
    """The midpoint sum of a function over a stretch."""
    step = (end - start) / SLICES
    return step * math.fsum(height_at(start + (number + 0.5) * step) for number in range(SLICES))


def chord(radius: float, across: float) -> float:
    """The length of the chord at a distance from the middle of a circle."""
    return 2 * math.sqrt(radius**2 - across**2) if abs(across) < radius else 0.0


def disc(radius: float) -> float:
    """The area of a disc as a sum of chords."""
    return summed(lambda x: chord(radius, x), -radius, radius)


def answered(request: str) -> Answer:
    answer = ask(request)
    assert answer.status == "answered", f"{request}: {answer.question}"
    return answer


def mix_litres(request: str) -> float:
    """The finished mix of a request that names a share of 10 %."""
    answer = answered(request)
    assert answer.castings is not None and answer.share == pytest.approx((0.1, 0.1))
    return answer.castings.litres[0] / 0.1


def area_m2(request: str) -> float:
    """The area of a request for a layer of 10 mm."""
    answer = answered(request)
    assert answer.castings is not None and answer.layer_mm == pytest.approx((10, 10))
    return answer.castings.litres[0] / 10


@FEW
@given(st.integers(10, 60), st.integers(10, 60), st.integers(5, 60))
def test_tapered_pot(top: int, height: int, bottom: int) -> None:
    bottom = min(bottom, top)
    cubic_cm = summed(lambda z: _unit_disc() * ((bottom + (top - bottom) * z / height) / 2) ** 2, 0, height)
    found = mix_litres(f"pot {top} cm diameter at the top, {bottom} cm at the bottom, {height} cm tall, 10% castings")
    assert found == pytest.approx(cubic_cm / 1000, rel=NEAR)


def _unit_disc() -> float:
    """The area of a disc of radius 1, summed once."""
    if not _UNIT_DISC:
        _UNIT_DISC.append(disc(1.0))
    return _UNIT_DISC[0]


_UNIT_DISC: list[float] = []


@FEW
@given(st.integers(10, 90), st.integers(10, 60))
def test_straight_pot(across: int, height: int) -> None:
    found = mix_litres(f"pot {across} cm across and {height} cm tall, 10% castings")
    assert found == pytest.approx(_unit_disc() * (across / 2) ** 2 * height / 1000, rel=NEAR)


def test_standard_pot_named_by_its_diameter() -> None:
    """As tall as wide and filled to 90 % (a greenhouse containers article, C4), tapering to three quarters (common practice)."""
    cubic_in = summed(lambda z: _unit_disc() * ((6 + 2 * z / 8) / 2) ** 2, 0, 8)
    found = mix_litres("fill an 8 inch pot, 10% castings")
    assert found == pytest.approx(0.9 * cubic_in * 2.54**3 / 1000, rel=NEAR)


@FEW
@given(st.integers(10, 60), st.integers(70, 400))
def test_ring_around_a_trunk(inner: int, outer: int) -> None:
    whole = summed(lambda x: chord(outer, x) - chord(inner, x), -outer, outer)
    found = area_m2(f"ring around a tree from {inner} cm from the trunk to {outer} cm from the trunk, a 10 mm layer of castings")
    assert found == pytest.approx(whole / 10_000, rel=2 * NEAR)


@FEW
@given(st.integers(1, 12))
def test_round_bed(across: int) -> None:
    found = area_m2(f"round bed {across} m across, a 10 mm layer of castings on top")
    assert found == pytest.approx(disc(across / 2), rel=NEAR)


@FEW
@given(st.integers(2, 12), st.integers(1, 9))
def test_oval_bed(length: int, width: int) -> None:
    strips = summed(lambda x: chord(length / 2, x) * width / length, -length / 2, length / 2)
    found = area_m2(f"oval bed {length} m by {width} m, a 10 mm layer of castings on top")
    assert found == pytest.approx(strips, rel=NEAR)


@FEW
@given(st.integers(1, 12), st.integers(1, 9))
def test_triangular_bed(base: int, height: int) -> None:
    strips = summed(lambda y: base * (1 - y / height), 0, height)
    found = area_m2(f"triangle bed base {base} m and height {height} m, a 10 mm layer of castings on top")
    assert found == pytest.approx(strips, rel=NEAR)


def polygon(corners: int, radius: float) -> float:
    """The area of a form of like sides as a sum of triangles from its middle, each a corner's turn wide."""
    points = [(radius * math.cos(2 * math.pi * n / corners), radius * math.sin(2 * math.pi * n / corners)) for n in range(corners)]
    return math.fsum(one[0] * two[1] - two[0] * one[1] for one, two in zip(points, [*points[1:], points[0]], strict=True)) / 2


@FEW
@given(st.sampled_from((("hexagon", 6), ("octagon", 8))), st.integers(1, 9), st.sampled_from(("m a side", "m across the flats", "m across the corners")))
def test_bed_of_like_sides(form: tuple[str, int], size: int, told: str) -> None:
    name, corners = form
    turn = math.pi / corners
    radius = {"m a side": size / (2 * math.sin(turn)), "m across the flats": size / (2 * math.cos(turn))}.get(told, size / 2)
    found = area_m2(f"{name} bed {size} {told}, a 10 mm layer of castings on top")
    assert found == pytest.approx(polygon(corners, radius), rel=NEAR)
