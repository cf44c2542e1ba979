"""Frozen views go to JSON and back unchanged; fingerprints and seals hold what they say."""

from __future__ import annotations

import hashlib
import hmac
import json
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from supports.freezing import canonical, fingerprint, from_plain, seal, short, to_plain
from supports.snapshots import NameplateView, SettingView, SupportView, UnitView
from supports.vocabulary import PlantState, SupportKind

VIEW = SupportView(
    id=7,
    tag="PS-7 Ω",
    kind=SupportKind.CONSTANT_HANGER,
    units=(
        UnitView(
            3,
            "A",
            SupportKind.CONSTANT_HANGER,
            nameplate=NameplateView(
                nameplate_load=0.1 + 0.2, load_per_turn_table=((1.0, 2.0, 0.25),), provisional=True
            ),
            setting=SettingView(
                20_000.0, date(2031, 5, 4), "scale", "N. N.", PlantState.SHUT_DOWN_DRAINED
            ),
        ),
    ),
)

PLAIN = st.recursive(
    st.none() | st.booleans() | st.floats(allow_nan=False) | st.text(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=8,
)


def test_a_view_comes_back_as_it_went():
    assert from_plain(SupportView, json.loads(json.dumps(to_plain(VIEW)))) == VIEW


def test_what_is_not_known_comes_back_as_not_known():
    back = from_plain(SupportView, to_plain(replace(VIEW, beam_mass=None, arm_a=0.0)))
    assert back.beam_mass is None
    assert back.arm_a == 0.0


@given(PLAIN)
def test_a_fingerprint_outlives_the_way_through_json(data):
    assert fingerprint(json.loads(json.dumps(data))) == fingerprint(data)


def test_a_fingerprint_does_not_hang_on_the_order_of_names():
    assert fingerprint({"a": 1, "b": [2]}) == fingerprint({"b": [2], "a": 1})


@pytest.mark.parametrize("other", [{"a": 2}, {"b": 1}, {"a": "1"}, {"a": None}, {}, {"a": [1]}])
def test_a_fingerprint_changes_with_the_content(other):
    assert fingerprint(other) != fingerprint({"a": 1})


def test_equal_numbers_are_written_alike():
    # one database gives 20000 back as an integer, the other as a float
    assert canonical({"load": 20_000}) == canonical({"load": 20_000.0})
    assert canonical({"x": 0.1}) != canonical({"x": 0.1 + 1e-16 * 2})


def test_a_seal_is_the_keyed_hash_of_its_words():
    # RFC 2104 by the standard library, over the words as one JSON list
    wanted = hmac.new(b"key", b'["WO-1/1","PS-7","3"]', hashlib.sha256).hexdigest()
    assert seal("key", "WO-1/1", "PS-7", "3") == wanted[:20]


@pytest.mark.parametrize(
    "words", [("WO-1/1", "PS-8", "3"), ("WO-1", "1PS-7", "3"), ("WO-1/1PS-7", "3")]
)
def test_a_seal_tells_which_word_is_which(words):
    assert seal("key", *words) != seal("key", "WO-1/1", "PS-7", "3")
    assert seal("other", *words) != seal("key", *words)


def test_a_mark_is_printed_in_three_groups_of_four():
    assert short("0123456789abcdef") == "0123-4567-89AB"
