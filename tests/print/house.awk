# Writes a made-up house of `branches` branches with `each` appliances on each, every seventh name very long.
BEGIN {
    print "[house]\nname = House of " branches " branches\nrules = us\nsystem = split-phase\nmain_breaker = 400 A\nfloor_area = 4000 ft2\n"
    for (b = 1; b <= branches; b++) {
        leg = b % 2 ? "A" : "B"
        name = "Branch " b
        if (b % 7 == 0)
            name = name " with a label that goes on and on about every outlet between the attic stairs and the boiler cupboard"
        print "[branch b" b "]\nlabel = " name "\nbreaker = " (b % 3 ? 20 : 15) " A\nlegs = " leg "\nwire = 12 AWG copper\nlength = " 20 + b % 60 " ft"
        if (b <= 400)
            print "position = " b
        print ""
    }
    for (b = 1; b <= branches; b++) {
        if (b % 5 == 0) {
            for (o = 1; o <= 4; o++)
                print "[outlet b" b "-o" o "]\nbranch = b" b "\nname = Outlet " o (o == 3 ? " behind the tall bookcase beside the second window" : "") "\nrun = " 4 + o " ft" (o > 1 ? "\nfrom = b" b "-o" (o == 4 ? 1 : o - 1) : "") "\n"
        }
        for (a = 1; a <= each; a++) {
            n++
            name = "Appliance " n
            if (n % 7 == 0)
                name = name " <the \"long\" & winding one>, inherited from an aunt who wrote down everything it can do, hour by hour"
            if (n % 11 == 0)
                name = "Wasserkocher\303\274\303\266\303\244" n "\316\251ohneLeerzeichenSoDassKeineStelleZumUmbrechenBleibtUndEsDennochPassenMuss"
            start = (n * 7) % 23
            printf "[appliance a%d]\nname = %s\n%s = b%d%s\npower = %d W\ncount = %d\nuse = %02d:00-%02d:30\n", n, name, b % 5 == 0 ? "outlet" : "branch", b, b % 5 == 0 ? "-o" (a - 1) % 4 + 1 : "", 20 + (n * 131) % 900, 1 + n % 3, start, start + 1
            print (n % 4 ? "" : "behaviour = motor\npower_factor = 0.8") "\n"
        }
    }
}
