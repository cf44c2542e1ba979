"""One row of columns for every answer of the rules on history, stops, changes, walks and data."""

from __future__ import annotations

from tests.rules.cases import CONSTANT, OTHER, TODAY, VARIABLE, Case, but, edge

READ = but(CONSTANT, scale_load=20_000.0, setting_in_state=20_000.0)
TURNED = but(CONSTANT, turns_given=4.0, setting_step=1_000.0)
HISTORY: dict[str, Case] = {
    # Plate 20.0, scale 21.5 with a paint mark and no paper: 7.5 %
    "set-without-record": Case(
        but(READ, scale_load=20_200.0), but(READ, scale_load=21_500.0),
        but(READ, reading_day=TODAY - 500), but(READ, setting_in_state=None),
        {
            "reading_error": edge(READ, scale_load=20_400.0),
            "variable_reading_error": edge(READ, variable=1, constant=0, scale_load=21_000.0),
        },
    ),
    "plate-not-readable": Case(
        CONSTANT, but(CONSTANT, plate_readable=0), OTHER, but(CONSTANT, plate_readable=None)
    ),
    "plate-and-drawing-differ": Case(
        but(CONSTANT, drawn_load=20_000.0), but(CONSTANT, drawn_load=21_000.0), CONSTANT,
        but(CONSTANT, nameplate_load=None, drawn_load=20_000.0),
        {"data_difference": edge(CONSTANT, nameplate_load=20_400.0, drawn_load=20_000.0)},
    ),
    "plate-and-calculation-differ": Case(
        but(VARIABLE, calculated_rate=80_000.0), but(VARIABLE, calculated_rate=60_000.0),
        VARIABLE, but(VARIABLE, rate=None, calculated_rate=80_000.0),
        {"data_difference": edge(VARIABLE, rate=81_600.0, calculated_rate=80_000.0)},
    ),
    "unit-moved": Case(
        but(CONSTANT, other_places=0), but(CONSTANT, other_places=1), OTHER, CONSTANT
    ),
    "drift-between-walks": Case(
        but(CONSTANT, comparable_readings=3, pointer_drift=0.001, load_drift=0.0),
        but(CONSTANT, comparable_readings=3, pointer_drift=0.005, load_drift=0.0),
        but(CONSTANT, comparable_readings=2, pointer_drift=0.005),
        but(CONSTANT, comparable_readings=3),
        {
            "drift_pointer": edge(CONSTANT, comparable_readings=3, pointer_drift=0.002),
            "drift_load": edge(CONSTANT, comparable_readings=3, load_drift=-0.03),
            "trend_readings": edge(
                CONSTANT, -2, comparable_readings=3, pointer_drift=0.005, load_drift=0.0
            ),
        },
    ),
    # 4 turns of 0.25 kN should make 1.00 kN; 0.70 is 30 % off
    "turns-and-scale-disagree": Case(
        TURNED, but(TURNED, setting_step=700.0), CONSTANT, but(TURNED, load_per_turn_here=None),
        {"step_disagreement": edge(TURNED, setting_step=800.0)},
    ),
    "setting-older-than-weight-change": Case(
        but(CONSTANT, weight_change_day=TODAY - 500), but(CONSTANT, weight_change_day=TODAY - 300),
        CONSTANT, but(CONSTANT, weight_change_day=TODAY - 300, setting_day=None),
    ),
    "many-re-sets": Case(
        but(CONSTANT, re_sets_in_ten_years=2), but(CONSTANT, re_sets_in_ten_years=4), OTHER,
        CONSTANT, {"re_sets": edge(CONSTANT, -2, re_sets_in_ten_years=3)},
    ),
}  # fmt: skip

LOCKED = but(CONSTANT, setting=20_000.0, water_load=6_710.0, has_test_case=1)
STOPS: dict[str, Case] = {
    "lock-in-while-running": Case(
        but(CONSTANT, stops_in=1, line_running=0), but(CONSTANT, stops_in=1, line_running=1),
        but(CONSTANT, stops_in=0, line_running=1), but(CONSTANT, stops_in=1),
    ),
    "locks-not-all-out": Case(
        {"heat_up_asked": 1, "stops_in": 0}, {"heat_up_asked": 1, "stops_in": 1},
        {"heat_up_asked": 0, "stops_in": 1}, {"heat_up_asked": 1},
    ),
    "lock-out-before-weight": Case(
        {"stop_removal_asked": 1, "weight_missing": 0.0},
        {"stop_removal_asked": 1, "weight_missing": 0.23}, {}, {"stop_removal_asked": 1},
        {"band": ({"stop_removal_asked": 1, "weight_missing": 0.06}, 1)},
    ),
    "fill-with-lock-out": Case(
        but(CONSTANT, fill_asked=1, stops_in=1), but(CONSTANT, fill_asked=1, stops_in=0),
        but(CONSTANT, fill_asked=1, stops_in=0, designed_for_fill=1),
        but(CONSTANT, fill_asked=1, stops_in=None),
    ),
    # 20.0 + 6.71 = 26.71 kN; often twice the plate load by MSS practice: 40.0 kN, 67 %
    "lock-rating-short": Case(
        LOCKED, but(LOCKED, stop_rating=26_000.0), CONSTANT, but(LOCKED, stop_rating=None)
    ),
    "lock-seized": Case(
        but(CONSTANT, stop_tried=1, stop_seized=0), but(CONSTANT, stop_tried=1, stop_seized=1),
        CONSTANT, but(CONSTANT, stop_tried=1),
    ),
    "lock-not-in-holder": Case(
        but(CONSTANT, stop_looked_for=1, stop_in_holder=1, stops_in=0),
        but(CONSTANT, stop_looked_for=1, stop_in_holder=0, stops_in=0),
        but(CONSTANT, stop_looked_for=1, stop_in_holder=0, stops_in=1),
        but(CONSTANT, stop_looked_for=1, stops_in=0),
    ),
}  # fmt: skip

OPEN = {"open": 1, "approved": 1, "assessed": 1, "jobs_done": 1, "jobs_left": 0}
BRIEF = but(OPEN, temporary=1)
CHANGE: dict[str, Case] = {
    "work-without-approval": Case(
        {"setting_is_new_value": 1, "setting_approved": 1},
        {"setting_is_new_value": 1, "setting_approved": 0}, {}, {"setting_is_new_value": 1},
    ),
    "calculation-superseded": Case(
        but(OPEN, newer_revision=0), but(OPEN, newer_revision=1), {"open": 1}, OPEN
    ),
    "checker-is-doer": Case(
        but(OPEN, signed_twice=0), but(OPEN, signed_twice=1), {"open": 1}, OPEN
    ),
    "temporary-near-date": Case(
        but(BRIEF, ends_on=TODAY + 60), but(BRIEF, ends_on=TODAY + 10),
        but(BRIEF, ends_on=TODAY - 1), BRIEF,
        {"temporary_notice": edge(BRIEF, 2, ends_on=TODAY + 30)},
    ),
    "temporary-past-date": Case(
        but(BRIEF, ends_on=TODAY), but(BRIEF, ends_on=TODAY - 1), OPEN, BRIEF
    ),
    "part-done-then-called-off": Case(
        {"called_off": 1, "jobs_done": 0}, {"called_off": 1, "jobs_done": 1}, OPEN,
        {"called_off": 1},
    ),
    "line-in-mixed-state": Case(
        but(OPEN, jobs_left=2, heat_up_asked=0), but(OPEN, jobs_left=2, heat_up_asked=1), OPEN,
        but(OPEN, jobs_left=2),
    ),
    "emergency-not-regularised": Case(
        but(OPEN, emergency=1, approved=0, requested_on=TODAY - 1),
        but(OPEN, emergency=1, approved=0, requested_on=TODAY - 4), OPEN,
        but(OPEN, emergency=1, approved=0),
        {"emergency_hours": edge(OPEN, emergency=1, approved=0, requested_on=TODAY - 3)},
    ),
    "drawings-not-updated": Case(
        but(OPEN, to_be_closed=1, red_marks=1), but(OPEN, to_be_closed=1, red_marks=0), OPEN,
        but(OPEN, to_be_closed=1),
    ),
    "two-changes-one-line": Case({"open_changes": 1}, {"open_changes": 2}, None, {}),
    "like-for-like-doubtful": Case(
        but(CONSTANT, replaced=1, former_nameplate_load=20_000.0),
        but(CONSTANT, replaced=1, former_nameplate_load=25_000.0), CONSTANT,
        but(CONSTANT, replaced=1),
        {"data_difference": edge(CONSTANT, replaced=1, nameplate_load=20_400.0,
                                 former_nameplate_load=20_000.0)},
    ),
}  # fmt: skip

PAIR = but(CONSTANT, read_shut_down=1, read_operating=1, pair_days_apart=10)
HOT = but(CONSTANT, read_hot=1, reading_temperature=800.0, operating_temperature=811.15)
WALKDOWN: dict[str, Case] = {
    "never-seen": Case(
        CONSTANT, but(CONSTANT, readings=0), OTHER, but(CONSTANT, readings=None)
    ),
    "no-hot-cold-pair": Case(
        PAIR, but(PAIR, read_operating=0, pair_days_apart=None), but(PAIR, readings=0),
        but(PAIR, read_operating=None), {"pair_days": edge(PAIR, pair_days_apart=30)},
    ),
    # ASME B31.1 appendix V (from memory): once a year or as the plant allows
    "walk-overdue": Case(
        CONSTANT, but(CONSTANT, last_seen_day=TODAY - 400), but(CONSTANT, readings=0),
        but(CONSTANT, criticality=""),
        {
            "walk_interval_a": edge(CONSTANT, last_seen_day=TODAY - 365),
            "walk_interval_b": edge(CONSTANT, criticality="B", last_seen_day=TODAY - 730),
            "walk_interval_c": edge(CONSTANT, criticality="C", last_seen_day=TODAY - 1825),
        },
    ),
    "no-hot-walk-after-change": Case(
        {"started_up_on": TODAY - 20, "units_not_walked": 0},
        {"started_up_on": TODAY - 20, "units_not_walked": 2},
        {"started_up_on": TODAY - 5, "units_not_walked": 2}, {"proved_in_operation": 1},
        {"walk_after_change": ({"started_up_on": TODAY - 14, "units_not_walked": 2}, 1)},
    ),
    "state-not-comparable": Case(
        HOT, but(HOT, reading_temperature=700.0), CONSTANT, but(HOT, reading_temperature=None),
        {"state_temperature": edge(HOT, reading_temperature=791.15)},
    ),
    "reading-impossible": Case(
        but(CONSTANT, pointer=0.2, scale_load=20_000.0), but(CONSTANT, pointer=0.25), CONSTANT,
        but(CONSTANT, pointer=0.1, total_travel=None),
    ),
    "finding-without-owner": Case(
        {"open": 1, "owner": "A. Person", "due_day": TODAY}, {"open": 1, "owner": "A. Person"},
        {"open": 0}, {"owner": "A. Person", "due_day": TODAY},
    ),
    "critical-without-photo": Case(
        {"criticality": "A", "is_spring_point": 1, "photos": 1},
        {"criticality": "A", "is_spring_point": 1, "photos": 0},
        {"criticality": "B", "is_spring_point": 1, "photos": 0},
        {"criticality": "A", "is_spring_point": 1},
    ),
    "form-of-old-revision": Case(
        {"form_revision": 2, "form_revision_now": 2}, {"form_revision": 1, "form_revision_now": 2},
        None, {"form_revision": 1},
    ),
    "seen-as-ok-without-value": Case(
        but(CONSTANT, pointer=0.1), CONSTANT, but(CONSTANT, criticality="B"),
        but(CONSTANT, criticality=""),
    ),
}  # fmt: skip

DATA: dict[str, Case] = {
    "same-tag-twice": Case({"bearers_of_tag": 1}, {"bearers_of_tag": 2}, None, {}),
    "tag-changed": Case(
        {"has_former_tag": 1, "tag_changed_on": TODAY - 200},
        {"has_former_tag": 1, "tag_changed_on": TODAY - 10}, {}, {"has_former_tag": 1},
        {"tag_change_notice": ({"has_former_tag": 1, "tag_changed_on": TODAY - 90}, 2)},
    ),
    "unit-not-stated": Case(
        {"is_quantity": 1, "unit_stated": 1}, {"is_quantity": 1, "unit_stated": 0},
        {"is_quantity": 0}, {"is_quantity": 1},
    ),
    # 1 kN = 225 lbf (NIST SP 811): 6.10 kN expected, '1427' under a heading in kN
    "unit-size-suspicious": Case(
        {"carries": 1, "halfway_known": 1, "load_found": 6_100.0, "expected_load": 6_100.0},
        {"carries": 1, "halfway_known": 1, "load_found": 1_427_000.0, "expected_load": 6_100.0},
        {"carries": 1}, {"carries": 1, "halfway_known": 1, "expected_load": 6_100.0},
    ),
    "zero-or-nines": Case(
        CONSTANT, but(CONSTANT, setting=9_999_000.0), OTHER,
        None,
    ),
    "sign-or-axis-doubt": Case(
        {"loads": 10, "downward_loads": 1}, {"loads": 10, "downward_loads": 4}, {"loads": 1},
        {"loads": 10}, {"mixed_sign_share": ({"loads": 10, "downward_loads": 2}, -2)},
    ),
    # linear spring; sign rule of MSS SP-58: up by 15 mm when hot, so the cold load is larger
    "hot-cold-swapped": Case(
        VARIABLE, but(VARIABLE, plate_movement=-0.015), but(VARIABLE, plate_movement=0.0),
        but(VARIABLE, cold_load=None),
    ),
    "rate-does-not-fit": Case(
        VARIABLE, but(VARIABLE, cold_load=13_500.0), CONSTANT, but(VARIABLE, rate=None),
        {"rate_difference": edge(VARIABLE, cold_load=13_236.0)},
    ),
    "range-upside-down": Case(
        CONSTANT, but(CONSTANT, stamped_low=23_000.0, stamped_high=17_000.0),
        but(CONSTANT, stamped_low=None, stamped_high=None), but(CONSTANT, stamped_high=None),
    ),
    "type-and-data-disagree": Case(
        CONSTANT, but(CONSTANT, rate=80_000.0), {}, {"support_kind": "unknown"}
    ),
    "date-not-possible": Case(
        CONSTANT, but(CONSTANT, setting_day=TODAY + 1), OTHER,
        but(CONSTANT, setting_day=None, undated=1),
    ),
    "serial-twice": Case(
        but(CONSTANT, bearers_of_serial=1), but(CONSTANT, bearers_of_serial=2), OTHER,
        but(CONSTANT, bearers_of_serial=1, serial=""),
    ),
    "point-without-line": Case(
        {"in_place": 1, "lines": 1}, {"in_place": 1, "lines": 0}, {"in_place": 0, "lines": 0},
        {"lines": 0},
    ),
    "node-without-tag": Case(
        {"calculated": 1, "nodes_without_tag": 0}, {"calculated": 1, "nodes_without_tag": 2},
        {"calculated": 0}, {"calculated": 1},
    ),
    "tag-without-node": Case(
        {"line_calculated": 1, "carries": 1, "has_node": 1},
        {"line_calculated": 1, "carries": 1, "has_node": 0}, {"carries": 1},
        {"line_calculated": 1, "carries": 1},
    ),
    "order-along-line-broken": Case(
        {"supports": 3, "order_missing": 0, "order_double": 0, "distance_falling": 0},
        {"supports": 3, "order_missing": 0, "order_double": 1, "distance_falling": 0},
        {"supports": 1}, {"supports": 3},
    ),
    "edited-by-two": Case({"editors": 1}, {"editors": 2}, None, {}),
}  # fmt: skip
