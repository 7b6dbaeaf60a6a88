# Reads meson's testlog.txt and prints `PASSED FAILED SKIPPED`, counting single tests:
# each TAP line is one; a program that speaks no TAP is one by its exit status; a program that crashed, ran out of time,
# or fell short of its plan without saying `not ok` is one failure more. A program left out as a whole is as many skips as
# a list of `NAME NUMBER` says that it has tests (-v list=FILE); one where there is no list, or the list has no such name.
BEGIN {
    while (list != "" && (getline line < list) > 0) {
        split(line, part, " ")
        most[part[1]] = part[2]
    }
}
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
/^test: / && !output { program = $NF; next }
/^result: / && !output { clean = $0 ~ /exit status 0$/; killed = $0 !~ /exit status/; next }
/^-+ stdout -+$/ { output = 1; next }
/^-+ stderr -+$/ { output = 2; next }
output != 1 { next }
/^ok( |$)/ { tap = 1; seen++; if (/# SKIP/) skipped++; else passed++; next }
/^not ok( |$)/ { tap = 1; seen++; named = 1; failed++; next }
/^1\.\.0 *# *[Ss][Kk][Ii][Pp]/ { tap = 1; plan = 0; left_out = 1; skipped += program in most ? most[program] : 1; next }
/^1\.\.[0-9]+/ { tap = 1; plan = substr($1, 4) + 0; next }
/^Bail out!/ { tap = 1; clean = 0 }
END { close_program(); print passed + 0, failed + 0, skipped + 0 }
