# Reads meson's testlog.txt and a list of `NAME NUMBER` (-v list=FILE); prints a line for each program of the list that ran
# fewer tests than that, or none: tests can vanish without one that fails, a loop over an empty list first of all.
BEGIN {
    while ((getline line < list) > 0) {
        if (line ~ /^#/ || line == "") continue
        split(line, part, " ")
        want[part[1]] = part[2]
        order[++count] = part[1]
    }
}
/^test: / { name = $NF; next }
/^(not )?ok( |$)/ { seen[name]++ }
END {
    for (i = 1; i <= count; i++) {
        name = order[i]
        if (seen[name] + 0 < want[name]) printf "%s: %d of at least %d test%s\n", name, seen[name], want[name], want[name] == 1 ? "" : "s"
    }
}
