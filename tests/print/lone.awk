# Of `pdftohtml -xml`: prints each page whose last line above the foot is in bold alone (a heading, a table's caption or
# heads) or heads a group of loads; then, as `pages N`, how many pages were looked at. The foot begins with its date.
/^<page / {
    page++
}
/^<text / {
    match($0, /top="[0-9]+"/)
    top = substr($0, RSTART + 5, RLENGTH - 6) + 0
    words = $0
    sub(/^<text [^>]*>/, "", words)
    sub(/<\/text>$/, "", words)
    lines[page, top] = lines[page, top] (words ~ /^<b>.*<\/b>$/ ? "B" : words ~ /[^ ]/ ? "P" : "")
    held[page, top] = held[page, top] " " words
    if (words ~ /^2001-02-03 /)
        foot[page] = top
    tops[page] = tops[page] " " top
}
END {
    for (p = 1; p <= page; p++) {
        count = split(tops[p], top_of, " ")
        last = -1
        for (i = 1; i <= count; i++)
            if (top_of[i] + 0 < foot[p] - 3 && top_of[i] + 0 > last)
                last = top_of[i] + 0
        if (!foot[p])
            print "page " p ": no foot"
        else if (lines[p, last] ~ /B/ && lines[p, last] !~ /P/)
            print "page " p ": a heading alone:" held[p, last]
        else if (held[p, last] ~ /planning current [0-9.]+ of/)
            print "page " p ": a branch alone:" held[p, last]
    }
    print "pages " page
}
