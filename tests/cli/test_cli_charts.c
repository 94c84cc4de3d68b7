/* What the charts show, read off their SVG. */
#include "cli/program.h"

#include <CUnit/CUnit.h>

void suite_cli_charts(void);

/* The scripts of the charts that a test looks at, in $T/only: the others cost time. */
#define ONLY(charts)                                                                               \
    "rm -rf $T/only; mkdir $T/only; for c in common " charts "; do cp plots/$c.gp $T/only; done; "

/* Files and charts of a scenario in a folder of its name. */
#define DRAW(scenario, charts)                                                                     \
    ONLY(charts)                                                                                   \
    "test -d $T/" scenario " || { $P compare scenarios/" scenario " -o $T/" scenario " > $T/said " \
    "2>&1 && $P plot $T/" scenario " --scripts $T/only > $T/said; }; cd $T/" scenario "; "

/* The charts of this scenario that are looked at, in whichever test. */
#define SIX_FLATS DRAW("six-flats", "energy hours day cycle tank")

/* In the strip of the leakiest house each of some 400 runs is a black box, and between two of them
 * something is left: the boxes are told by their edges, left and right, in the order of time. */
static void every_run_is_seen(void)
{
    CU_ASSERT(
        program_ends(DRAW("leaky-terrace",
                          "day") "sed -n \"s/.*polygon fill = 'rgb(  0,   0,   0)' points = "
                                 "'\\([0-9.]*\\),.*/&/p\" day-pressure-start.svg | sed "
                                 "\"s/.*points = '//; s/,[0-9.]* / /g; s/'.*//\" > boxes; "
                                 "test $(wc -l < boxes) = $(grep -c ^pressure-start cycles.csv) && "
                                 "test $(wc -l < boxes) -gt 300 && "
                                 "awk 'NR > 1 && $1 < right + 0.1 { joined++ } { right = $2 } "
                                 "END { print joined + 0, \"joined\" }' boxes",
                     0, "0 joined"));
    CU_ASSERT(program_ends("cd $T/leaky-terrace; grep -c \"pump: $(wc -l < boxes) runs\" "
                           "day-pressure-start.svg",
                           0, "1\n"));
}

/* The highest flow of a day, known by rows a tenth of a second apart, is a row too where these are
 * a minute apart, as for a page; and it is drawn: flows have their panel between 566.4 (0) and
 * 406.4 dots, which is 1.08 of the most of all strategies. */
static void peaks_are_drawn(void)
{
    CU_ASSERT(program_ends(
        "for e in 0.1 60; do $P compare scenarios/hillside-house --every $e -o $T/e$e > $T/said; "
        "awk -F , 'NR > 1 && $7 > m[$1] { m[$1] = $7 } END { for (s in m) print s, m[s] }' "
        "$T/e$e/trace.csv | sort > $T/peaks$e; done; cat $T/peaks*; join $T/peaks0.1 $T/peaks60 | "
        "awk '{ print ($3 > 0.995 * $2 ? \"kept\" : \"lost\") }' | uniq -c | tr -d ' '",
        0, "\n3kept\n"));
    CU_ASSERT(program_ends(ONLY("day") "$P plot $T/e60 --scripts $T/only > $T/said; most=$(cut -d "
                                       "' ' -f 2 $T/peaks0.1 | sort -n | tail -n 1); "
                                       "while read -r s peak; do awk '/stroke=.rgb.  0, 114, 178/ "
                                       "{ on = 1 } on { print } "
                                       "/\\/>/ { on = 0 }' $T/e60/day-$s.svg | grep -o '[ML "
                                       "][0-9.]*,[0-9.]*' | awk -F , "
                                       "-v s=$s -v peak=$peak -v most=$most '$2 > 407 && (y == 0 "
                                       "|| $2 < y) { y = $2 } END { "
                                       "drawn = (566.4 - y) / 160 * 1.08 * most; if (drawn > 0.97 "
                                       "* peak && drawn < 1.03 * peak) "
                                       "print \"drawn\"; else print s, drawn, \"of\", peak }'; "
                                       "done < $T/peaks0.1 | uniq -c | tr "
                                       "-d ' '",
                           0, "3drawn\n"));
}

/* A verdict that is not ok marks a strategy in each of the three panels and stands over its day;
 * the water that it falls short stands below it: asked for less given, of the files. */
static void misfits_are_marked(void)
{
    CU_ASSERT(program_ends(SIX_FLATS
                           "asked=$(tail -n 1 settings.csv | cut -d , -f 11); "
                           "awk -F , -v a=$asked 'NR > 1 && a - $7 > 0.01 * a "
                           "{ printf \"%.0f short\\n\", a - $7 }' summary.csv > short; "
                           "test $(wc -l < short) = 2 && grep -o '[0-9]* short' energy.svg | "
                           "cmp - short && grep -c 'does not fit' energy.svg",
                           0, "6\n"));
    CU_ASSERT(program_ends("cd $T/six-flats; grep -o '[a-z-]* (does not fit)' hours.svg", 0,
                           "flow-start (does not fit)\npeak-only (does not fit)\n"));
    CU_ASSERT(program_ends("cd $T/six-flats; grep -c 'does not fit: .*low taps' "
                           "day-peak-only.svg; grep -c '>fits<' day-pressure-start.svg",
                           0, "1\n1\n"));
}

/* A two-pressure switch has a line where it stops and none for a flow that it does not use. */
static void cycles_show_the_control_that_was_run(void)
{
    CU_ASSERT(program_ends(SIX_FLATS "grep -o '>st[a-z ]*<' cycle-pressure-start.svg", 0,
                           ">start<\n>stop<\n"));
    CU_ASSERT(program_ends("cd $T/six-flats; grep -o '>st[a-z ]*<' cycle-flow-start.svg", 0,
                           ">stop flow<\n"));
    CU_ASSERT(program_ends("cd $T/six-flats; grep -c 'run-on' cycle-pressure-start.svg", 1, "0\n"));
}

/* The same numbers at the axes of all three cycles, some thirty of them; and of the days. */
static void compared_pictures_have_the_same_axes(void)
{
    CU_ASSERT(program_ends(
        DRAW("hillside-house", "cycle day") "for k in cycle day; do for s in pressure-start "
                                            "flow-start peak-only; do grep -o '> "
                                            "*-*[0-9][0-9.:]*<' $k-$s.svg > $k-$s.axes; "
                                            "test $(wc -l < $k-$s.axes) -gt 25 || echo few; "
                                            "cmp $k-$s.axes $k-flow-start.axes; done; done; "
                                            "true",
        0, ""));
    CU_ASSERT(program_ends("cd $T/hillside-house; cat *.axes | wc -l; cat cycle-*.axes | sort | "
                           "uniq -c | awk '$1 % 3 { odd++ } END { print odd + 0, \"odd\" }'",
                           0, "0 odd"));
}

/* With gas that warms the tank's chart has two branches, and says why; else one. */
static void branches_of_the_tank_are_explained(void)
{
    CU_ASSERT(program_ends(SIX_FLATS "grep -c 'Two branches: ' tank.svg", 0, "1\n"));
    // one gentle curve, one that is all steep
    CU_ASSERT(
        program_ends(ONLY("tank") "for s in $S scenarios/high-precharge; do $P compare $s --set "
                                  "tank.gas=isothermal -o $T/one > $T/said && $P plot $T/one "
                                  "--scripts $T/only > $T/said && "
                                  "grep -o 'One curve, \\|Two branches' $T/one/tank.svg; done",
                     0, "One curve, \nOne curve, \n"));
}

/* A sweep tells whose it is and what was asked for; what passes has filled marks, what does not
 * hollow ones or a cross: as many as rows of the file, in each of the four panels. */
static void sweeps_show_what_passes(void)
{
    CU_ASSERT(program_ends(
        "mkdir $T/sweeps; $P sweep scenarios/hillside-house --strategy pressure-start --vary "
        "tank.volume=2,8,24L -o $T/sweeps/one.csv > $T/said 2>&1; $P sweep "
        "scenarios/hillside-house --vary tank.volume=2,24L --vary house.leak=0,1L/min -o "
        "$T/sweeps/two.csv > $T/said 2>&1; $P plot $T/sweeps > $T/said; cd $T/sweeps; "
        "grep -c 'hillside house: sweep one' sweep-one.svg; cut -d , -f 18 one.csv",
        0, "1\nverdict\nshort-cycling; poor suction\nok\nok\n"));
    // an open box is gnuplot's mark 4, a filled one 5, a cross 2; each is named from 0, and one is
    // in the list of marks or the key
    CU_ASSERT(program_ends("cd $T/sweeps; grep -c \"href='#gpPt3'\" sweep-one.svg; grep -c "
                           "\"href='#gpPt4'\" sweep-one.svg; grep -q '>limit<' sweep-one.svg",
                           0, "5\n9\n"));
    CU_ASSERT(program_ends("cd $T/sweeps; for s in pressure-start flow-start peak-only; do "
                           "awk -F , -v s=$s '$3 == s && $19 !~ /^ok/ { n++ } END { print n * 4 }' "
                           "two.csv > wanted; grep -c \"href='#gpPt1'\" sweep-two-$s.svg > drawn; "
                           "cat drawn; cmp wanted drawn; done",
                           0, "12\n16\n16\n"));
    CU_ASSERT(program_ends("cd $T/sweeps; grep -o '>[a-z ]*.[a-zA-Z]*.*, at [a-z]* [0-9]*<' "
                           "sweep-two-flow-start.svg",
                           0,
                           ">starts in worst hour, at most 15<\n>shortest run [s], at least "
                           "5<\n>lowest tap pressure [kPa], at least 100<\n"));
    // one scale of colours: the same numbers beside it
    CU_ASSERT(program_ends("cd $T/sweeps; for s in pressure-start flow-start peak-only; do grep -o "
                           "'text-anchor=\"start\"' sweep-two-$s.svg | wc -l; done | sort -u | wc "
                           "-l",
                           0, "1\n"));
}

/* Days that could not be run, and strategies under which the pump never runs, leave pictures
 * without a figure, and stop no other. */
static void sweeps_without_figures_are_drawn(void)
{
    CU_ASSERT(program_ends(
        "mkdir $T/none; for s in hillside-house cistern-cottage; do $P sweep scenarios/$s --vary "
        "tank.volume=-1,-2L -o $T/none/$s.csv; $P sweep scenarios/$s --vary tank.volume=8,24L "
        "--vary house.leak=0,1L/min -o $T/none/map-$s.csv; done > $T/said 2>&1; $P plot $T/none > "
        "$T/said && grep -c svg $T/said",
        0, "8\n"));
}

/* Numbers along the axes of a chart in each of two folders, one line each. */
#define AXES                                                                                       \
    "for d in low rule; do for c in hours tank cycle-pressure-start; "                             \
    "do sed -n 's/.*<tspan[^>]*> *\\([0-9.-]*\\)<.*/\\1/p' $T/beside/$d/$c.svg | tr '\\n' ' '; "   \
    "echo; done > $T/axes-$d; done; diff $T/axes-low $T/axes-rule | grep -c '^<'"

/* Two precharges of one tank, drawn one by one and then with axes that take in both. */
static void folders_share_axes(void)
{
    CU_ASSERT(program_ends(
        ONLY("hours tank cycle") "for p in low:60 rule:186; do $P compare "
                                 "scenarios/precharge-lesson "
                                 "--strategy pressure-start --set \"tank.precharge=${p#*:} kPa\" "
                                 "-o $T/beside/${p%:*} && $P plot $T/beside/${p%:*} --scripts "
                                 "$T/only || exit; done "
                                 "> $T/said; " AXES,
        0, "3\n"));
    CU_ASSERT(program_ends(
        "$P plot $T/beside/low $T/beside/rule --scripts $T/only > $T/said && " AXES, 1, "0\n"));
    CU_ASSERT(program_ends("awk 'NF > 6 {n++} END {print n}' $T/axes-low", 0, "3\n"));
    CU_ASSERT(program_ends("ls -A $T/beside/rule | grep -c -e '^\\.' -e '^[0-9]'", 1, "0\n"));
    CU_ASSERT(program_ends("$P compare scenarios/precharge-lesson --units us -o $T/beside/us > "
                           "$T/said; $P plot $T/beside/low $T/beside/us",
                           3, "same --units"));
}

void suite_cli_charts(void)
{
    CU_pSuite suite =
        CU_add_suite_with_setup_and_teardown("cli_charts", NULL, NULL, program_begin, program_end);

    CU_ADD_TEST(suite, every_run_is_seen);
    CU_ADD_TEST(suite, peaks_are_drawn);
    CU_ADD_TEST(suite, misfits_are_marked);
    CU_ADD_TEST(suite, cycles_show_the_control_that_was_run);
    CU_ADD_TEST(suite, branches_of_the_tank_are_explained);
    CU_ADD_TEST(suite, compared_pictures_have_the_same_axes);
    CU_ADD_TEST(suite, sweeps_show_what_passes);
    CU_ADD_TEST(suite, sweeps_without_figures_are_drawn);
    CU_ADD_TEST(suite, folders_share_axes);
}
