# Reads meson's testlog.txt and prints `PASSED FAILED SKIPPED`, counting single tests:
# each TAP line is one; a program that speaks no TAP is one by its exit status; a program that crashed, ran out of time,
# or fell short of its plan without saying `not ok` is one failure more.
function close_program() {
    if (!open) return
    bad = !clean || (tap && plan >= 0 && seen != plan) || (tap && plan < 0) || (tap && seen == 0 && !left_out)
    if (!tap && !bad) passed++
    if (bad && (!named || killed)) failed++
}
/^=+ [0-9]+\/[0-9]+ =+$/ {
    close_program()
    open = 1; clean = 0; killed = 0; tap = 0; named = 0; seen = 0; plan = -1; output = 0; left_out = 0
    next
}
/^result: / && !output { clean = $0 ~ /exit status 0$/; killed = $0 !~ /exit status/; next }
/^-+ stdout -+$/ { output = 1; next }
/^-+ stderr -+$/ { output = 2; next }
output != 1 { next }
/^ok( |$)/ { tap = 1; seen++; if (/# SKIP/) skipped++; else passed++; next }
/^not ok( |$)/ { tap = 1; seen++; named = 1; failed++; next }
/^1\.\.0 *# *[Ss][Kk][Ii][Pp]/ { tap = 1; plan = 0; skipped++; left_out = 1; next } # all of it left out
/^1\.\.[0-9]+/ { tap = 1; plan = substr($1, 4) + 0; next }
/^Bail out!/ { tap = 1; clean = 0 }
END { close_program(); print passed + 0, failed + 0, skipped + 0 }
