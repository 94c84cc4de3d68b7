/* `pumpday plot` and `pumpday report` as a user meets them. */
#include "cli/program.h"

#include <CUnit/CUnit.h>

void suite_cli_report(void);

#define COMPARE "$P compare $S --every 60 -o $T/out > $T/table && "

static void usage_is_told(void)
{
    CU_ASSERT(program_ends("$P plot --help", 0, "example"));
    CU_ASSERT(program_ends("$P plot", 2, "which folder"));
    CU_ASSERT(program_ends("$P plot $(seq 17)", 2, "at most 16 folders"));
    CU_ASSERT(program_ends("$P plot $T --width 3", 2, "\"--width\""));
    CU_ASSERT(program_ends("$P report --help", 0, "example"));
    CU_ASSERT(program_ends("$P report -o $T/a.html", 2, "which scenario"));
    CU_ASSERT(program_ends("$P report $S", 2, "-o"));
    CU_ASSERT(program_ends("$P report $S -o ''", 2, "empty"));
    CU_ASSERT(program_ends("$P report $T/nowhere -o $T/a.html", 3, "nowhere"));
}

/* All that is named is there, twice each, and nothing is left of where it was made.  In the house
 * as `new` writes it peak-only never runs, so there is no cycle of it to be shown. */
static void every_picture_is_made_and_named(void)
{
    CU_ASSERT(program_ends(COMPARE
                           "$P plot $T/out > $T/named && while read -r f; do test -s \"$f\" "
                           "|| echo no \"$f\"; done < $T/named; grep -c svg $T/named; "
                           "grep -c png $T/named; ls -A $T/out | wc -l",
                           0, "8\n8\n22\n"));
    CU_ASSERT(program_ends("cat $T/named", 0, "/out/day-peak-only.svg\n"));
    CU_ASSERT(program_ends("cat $T/named", 0, "/out/cycle-flow-start.png\n"));
}

/* Units of the files reach the axes. */
static void axes_follow_the_units(void)
{
    CU_ASSERT(program_ends("$P compare $S --units us --every 60 -o $T/out > $T/table && $P plot "
                           "$T/out > $T/named && cat $T/out/*.svg | grep -o 'pressure .psi.\\|flow "
                           ".gpm.\\|tank water .gal.\\|kPa\\|L/min' | sort -u | tr '\\n' ';'",
                           0, "flow [gpm];pressure [psi];tank water [gal];"));
    CU_ASSERT(program_ends("cat $T/out/*.svg | grep -c 'kPa\\|L/min'", 1, "0"));
}

/* Names that a shell, gnuplot, CSV or XML would take for something else. */
static void odd_names_are_only_names(void)
{
    CU_ASSERT(program_ends("D=\"$T/a b'c \\$(touch x) \\\"d\"; $P compare $S --every 60 --set "
                           "'title=\"A\" & <b>{x}_1</b>, $(touch x) `touch x` %d\\n' -o \"$D\" > "
                           "$T/table && $P plot \"$D\" > $T/named && grep -h 'cycles per hour' "
                           "\"$D/hours.svg\"; test -e x || ls $T | grep -c '^x$'",
                           1, "\"A\" &amp; &lt;b>{x}_1&lt;/b>, $(touch x) `touch x` %d\\n: pump"));
    CU_ASSERT(program_ends("$P report $S --set 'title=</title><script>' -o $T/a.html > $T/said && "
                           "grep -c '<script' $T/a.html",
                           1, "0"));
}

/* Without gnuplot, or with nothing to draw, the message says what to do; what was there stays. */
static void what_is_missing_is_told(void)
{
    CU_ASSERT(program_ends(COMPARE "PATH=/nowhere; $P plot $T/out", 5, "gnuplot-nox"));
    CU_ASSERT(program_ends("ls -A $T/out | wc -l", 0, "6\n"));
    CU_ASSERT(program_ends("mkdir $T/empty; $P plot $T/empty", 3, "pumpday compare"));
    CU_ASSERT(program_ends("$P plot $T/nowhere", 3, "nowhere"));
    CU_ASSERT(program_ends("$P plot $T/out --scripts $T", 5, "common.gp"));
    CU_ASSERT(program_ends("PUMPDAY_PLOTS=$T $P plot $T/out", 5, "common.gp"));
    CU_ASSERT(program_ends("PATH=/nowhere; $P report $S -o $T/a.html", 0, "no charts"));
    CU_ASSERT(program_ends("grep -c '<svg' $T/a.html; grep -c 'no charts in this report' $T/a.html",
                           0, "0\n1\n"));
}

/* A script that the user changed is the one that is run. */
static void scripts_may_be_changed(void)
{
    CU_ASSERT(program_ends("mkdir $T/mine && touch $T/mine/common.gp && printf '# needs: "
                           "summary.csv\\nset print ARG1.\"mine.svg\"\\nprint 1\\n' > "
                           "$T/mine/my.gp; " COMPARE "PUMPDAY_PLOTS=$T/mine $P plot $T/out",
                           0, "/out/mine.svg\n"));
    CU_ASSERT(program_ends("$P plot $T/out --scripts=$T/mine", 0, "/out/mine.svg\n"));
}

/* The page holds the charts, and nothing is left beside it. */
static void a_page_is_written_whole_or_not_at_all(void)
{
    CU_ASSERT(program_ends("mkdir $T/tmp; TMPDIR=$T/tmp $P report $S -o $T/deep/a.html && ls -A "
                           "$T/deep $T/tmp && grep -c 'role=\"img\"' $T/deep/a.html",
                           0, "a.html"));
    CU_ASSERT(program_ends("grep -c 'role=\"img\"' $T/deep/a.html", 0, "8\n"));
    CU_ASSERT(program_ends("ls -A $T/tmp | wc -l", 0, "0\n"));
    CU_ASSERT(program_ends("mkdir $T/b.html; $P report $S -o $T/b.html", 5, "b.html"));
    CU_ASSERT(program_ends("$P report $S -o /proc/nowhere/a.html", 5, "/proc/nowhere"));
    CU_ASSERT(program_ends("TMPDIR=$T/none $P report $S -o $T/c.html", 5, "none"));
    CU_ASSERT(program_ends("ls $T | tr '\\n' ' '", 0, "b.html deep house tmp "));
}

/* The same command twice writes the same bytes; units and strategies are chosen. */
static void pages_are_repeatable(void)
{
    CU_ASSERT(program_ends("for i in 1 2; do $P report $S --strategy flow-start --units us -o "
                           "$T/$i.html; done; cmp $T/1.html $T/2.html && grep -c 'kPa\\|peak-only' "
                           "$T/1.html",
                           1, "\n0\n"));
}

/* A client does not know the items of site.csv, nor the program's files; limits of one's own and
 * values put in for the page bring none of them in. */
static void pages_name_no_items(void)
{
    CU_ASSERT(program_ends(
        "$P items --csv | cut -d , -f 1 | grep '[.]' > $T/words; echo site.csv >> $T/words; "
        "echo pump.csv >> $T/words; echo balance >> $T/words; "
        "for s in scenarios/*/site.csv; do PATH=/nowhere $P report ${s%/site.csv} -o $T/a.html "
        "--set limit.starts_per_hour=3 --set limit.starts_per_day=9 --set 'limit.tap_pressure=2 "
        "bar' --set 'tank.rated_pressure=3 bar' --set 'guard.low_suction=0 bar' > $T/said 2>&1; "
        "cat $T/a.html; done | tr '\\n' ' ' | sed 's/<style>[^@]*@[^<]*<.style>//g' > $T/pages; "
        "grep -c '365 such days' $T/pages; grep -o -F -f $T/words $T/pages",
        1, "1\n"));
}

/* A two-pressure switch stops by pressure: the page has no stop flow and no run-on of it. */
static void pages_tell_the_control_that_was_run(void)
{
    CU_ASSERT(program_ends("$P report scenarios/six-flats --strategy pressure-start -o $T/a.html > "
                           "$T/said; grep -c 'stop flow\\|fallen below' $T/a.html; grep -o "
                           "'stops when it has risen to [0-9]* kPa' $T/a.html",
                           0, "0\nstops when it has risen to 480 kPa\n"));
}

/* Where a household is given, its days decide: what fails on a few of them is not called fit,
 * though the day shown passes. */
static void days_of_a_household_decide(void)
{
    CU_ASSERT(program_ends(
        "$P report scenarios/ten-flats --strategy pressure-start -o $T/a.html > /dev/null; grep -c "
        "'class=\"verdict fits\"' $T/a.html; grep -o 'does not fit (fails on [^)]*)' $T/a.html",
        0, "0\ndoes not fit (fails on 6 of 100 days (3 to 12 % of all)\n"));
    CU_ASSERT(program_ends("grep -o 'pressure-start fails on the fewest, 6 of 100 days' $T/a.html",
                           0, "fewest"));
    CU_ASSERT(
        program_ends("grep -c 'How sure is it? Many days' $T/a.html; grep -c 'id=\"days-title\"' "
                     "$T/a.html",
                     0, "1\n1\n"));
    // a larger tank passes on each of 50 days, and the page tells what that leaves open
    CU_ASSERT(
        program_ends("$P report scenarios/ten-flats --strategy pressure-start --days 50 --set "
                     "tank.volume=150L -o $T/b.html > /dev/null; grep -o 'every limit on each "
                     "of 50 days of the household (so it breaks one on 0 to 7 % of all' "
                     "$T/b.html",
                     0, "0 to 7 %"));
    CU_ASSERT(program_ends("$P report scenarios/ten-flats --days 0 --strategy pressure-start -o "
                           "$T/c.html > /dev/null; grep -c 'Many days' $T/c.html",
                           1, "0\n"));
}

void suite_cli_report(void)
{
    CU_pSuite suite =
        CU_add_suite_with_setup_and_teardown("cli_report", NULL, NULL, program_begin, program_end);

    CU_ADD_TEST(suite, usage_is_told);
    CU_ADD_TEST(suite, every_picture_is_made_and_named);
    CU_ADD_TEST(suite, axes_follow_the_units);
    CU_ADD_TEST(suite, odd_names_are_only_names);
    CU_ADD_TEST(suite, what_is_missing_is_told);
    CU_ADD_TEST(suite, scripts_may_be_changed);
    CU_ADD_TEST(suite, a_page_is_written_whole_or_not_at_all);
    CU_ADD_TEST(suite, pages_are_repeatable);
    CU_ADD_TEST(suite, pages_name_no_items);
    CU_ADD_TEST(suite, pages_tell_the_control_that_was_run);
    CU_ADD_TEST(suite, days_of_a_household_decide);
}
