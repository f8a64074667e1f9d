# SPDX-License-Identifier: BSD-3-Clause
"""Checks of what is missing in JSON and CSV, called by test_missing.sh: check_missing.py KIND FILE ..."""
import csv
import sys

from json_reference import check_keys, load


def check_keys_of(path, reference):
    check_keys(load(path), reference)


def check_late(path):
    for choice in load(path)["choices"]:
        (missing,) = choice["missing"]
        assert missing["ending"] == "hold.until" and missing["reason"] == "hour passed"
        assert missing["planned_s"] == 7 * 3600 and choice["hold_end_s"] is None
        assert choice["late_s"] == missing["late_s"] > 3600 and choice["endless_phases"] == 0
        assert abs(choice["slice_s"] - 7 * 3600 - choice["late_s"]) < 1e-6 and choice["yield_fraction"] > 0.5
        assert "NOT READY at 13:00" in missing["sentence"] and missing["target_k"] is None
        verdicts = {finding["rule"]: finding for finding in choice["safety"]}
        assert verdicts["hot_holding"]["verdict"] != "met" and verdicts["holding_place"]["verdict"] != "met"
        assert "hour had passed" in verdicts["holding_place"]["reason"]


def check_late_csv(path):
    with open(path) as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == 4
    for row in rows:
        assert float(row["late_s"]) > 3600 and row["missing"] == "hold.until: hour passed", row


def check_endless(path):
    for choice in load(path)["choices"]:
        (missing,) = choice["missing"]
        assert missing["ending"] == "hold.until" and missing["reason"] == "too hot" and missing["late_s"] is None
        assert abs(missing["target_k"] - 333.15) < 1e-9 and missing["nearest_k"] > 333.15 and missing["last_k"] >= missing["nearest_k"]
        assert choice["endless_phases"] == 1 and choice["error"] is None
        for key in ("slice_s", "yield_fraction", "servings", "probe_collagen", "tenderness", "bark", "late_s"):
            assert choice[key] is None, key
        assert missing["begin_s"] == choice["rest_end_s"] > choice["done_s"] > 0 and choice["yield_at_pull"] > 0.5
        assert all(finding["verdict"] != "met" for finding in choice["safety"] if finding["rule"].startswith("hot_holding"))


CHECKS = {"keys": check_keys_of, "late": check_late, "late-csv": check_late_csv, "endless": check_endless}
CHECKS[sys.argv[1]](*sys.argv[2:])
