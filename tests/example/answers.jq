# What answers.c prints, from the JSON of `check` and of `cost` ($cost).
def cents: . * 100 | round;
def verdict: {"empty": 0, "ok": 1, "near": 2, "at-risk": 3, "over": 4}[.];
def severity: {"note": 0, "warning": 1, "danger": 2}[.];
def findings($of): .findings[] | [$of, "finding", .id, (.severity | severity), .subject.kind, .subject.id, .text];
def other: if .busiest then .busiest elif .scene then .scene else .set end;
([.house, "house", .rules, "0.1.0", (.status | verdict)] | @tsv),
(.branches[] | .id as $id |
  ([$id, "branch", (.status | verdict), (.all.current_a | cents), (.all.planning_a | cents),
    (other.planning_a | cents)] | @tsv),
  (.loads[] | [$id, "load", .id, (.current_a | cents), (.power_w | cents)] | @tsv),
  (findings($id) | @tsv)),
(.panels[] | .id as $id | ([$id, "panel", (.leg_current_a.A | cents), (.leg_current_a.B | cents), (.neutral_a | cents)] | @tsv), (findings($id) | @tsv)),
($cost[0] | ["year", "energy", (.year.kwh | cents), .currency, .year.cost] | @tsv)
