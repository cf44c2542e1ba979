"""Support types as plants really write them. The examples are common practice, no source."""

from __future__ import annotations

from importers.sheets import SUPPORTS

DOUBTFUL = [
    ("CH", "type-ambiguous", ["constant hanger"]),
    (
        "CS",
        "type-ambiguous",
        ["constant hanger", "constant rest", "cold spring", "carbon steel"],
    ),
    ("C", "type-ambiguous", ["constant hanger", "carbon steel"]),
    ("SH", "type-ambiguous", ["variable hanger", "constant hanger"]),
    ("VH", "type-ambiguous", ["variable hanger"]),
    ("VS", "type-ambiguous", ["variable hanger", "variable rest"]),
    ("spg", "type-ambiguous", ["variable hanger", "constant hanger"]),
    ("Spring", "type-ambiguous", ["variable hanger", "constant hanger"]),
    ("hanger", "type-ambiguous", ["rigid rod", "variable hanger", "constant hanger"]),
    ("R", "type-ambiguous", ["rest", "rigid rod", "rigid strut", "roller"]),
    ("RH", "type-ambiguous", ["rigid rod", "riser hanger"]),
    ("rigid", "type-ambiguous", ["rigid rod", "rigid strut"]),
    ("temp.", "type-ambiguous", ["temporary", "temperature"]),
    ("VX-12/140", "type-is-a-code", ["Series"]),
    ("trapeze", "type-is-arrangement", ["Arrangement"]),
    ("2 CH on trapeze", "type-is-arrangement", ["Arrangement"]),
    ("same as 1023", "ditto", []),
    ("guide+rest", "several-types", ["Function"]),
    ("stop/guide", "several-types", ["Function"]),
    ("anchor?", "value-uncertain", []),
    ("removed", "type-is-status", ["In service"]),
    ("hangar", "word-not-known", []),
    ("●", "word-not-known", []),
]
MEANING_ONE_THING = [
    ("constant spring hanger", "constant hanger"),
    ("Variable Spring Hanger", "variable hanger"),
    ("rod hanger", "rigid rod"),
    ("rest", "rest"),
    ("roller", "roller"),
    ("snubber", "shock arrestor"),
]


def typed(one, words):
    return one(
        SUPPORTS, ["Support tag", "Support type"], *([f"PS-{n}", w] for n, w in enumerate(words))
    )


def test_a_doubtful_type_is_a_question_with_its_candidates(one):
    result = typed(one, [word for word, _, _ in DOUBTFUL])
    for row, (finding, record, (word, code, candidates)) in enumerate(
        zip(result.findings, result.records, DOUBTFUL, strict=True), start=2
    ):
        assert (finding.code, finding.severity.value, finding.place.cell) == (
            code,
            "STOP",
            f"B{row}",
        )
        assert all(candidate in finding.expected for candidate in candidates)
        assert "kind" not in record.values
        assert record.source.cells["kind"].text == word


def test_words_that_mean_one_thing_are_taken(one):
    result = typed(one, [word for word, _ in MEANING_ONE_THING])
    assert result.findings == ()
    assert [r.values["kind"] for r in result.records] == [kind for _, kind in MEANING_ONE_THING]


def test_a_constant_unit_with_a_spring_rate_is_looked_at(workbook):
    from importers.reading import read

    units = [["Support tag", "Unit position", "Unit type"], ["PS-1", "A", "constant hanger"]]
    plates = [
        ["Support tag", "Unit position", "Unit of load", "Unit of travel", "Rate [N/mm]"],
        ["PS-1", "A", "kN", "mm", 80],
    ]
    result = read(workbook({"Units": units, "Nameplates": plates}))
    assert [(f.code, f.place.cell) for f in result.findings] == [("type-and-data-disagree", "E2")]
