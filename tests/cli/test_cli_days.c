/* `pumpday days` as a user would run it. */
#include "cli/program.h"

#include <CUnit/CUnit.h>
#include <stdio.h>

void suite_cli_days(void);

static void usage_is_told(void)
{
    CU_ASSERT(program_ends("$P days --help", 0, "household.csv"));
    CU_ASSERT(program_ends("$P days", 2, "scenario"));
    CU_ASSERT(program_ends("$P days $S --count 0", 2, "expected a whole number, 1 to 1000000"));
    CU_ASSERT(program_ends("$P days $S --count 2.5", 2, "whole number"));
    CU_ASSERT(program_ends("$P days $S --until 0", 2, "0.1 to 50"));
    CU_ASSERT(program_ends("$P days $S --day 3", 2, "-o DIR"));
    CU_ASSERT(program_ends("$P days $S --day 3 -o $T/d --set tank.volume=9L", 2, "no --set"));
    CU_ASSERT(program_ends("$P days $S", 3, "new DIR --dwellings"));
    CU_ASSERT(program_ends("$P new $T/x --people 3", 2, "goes with --dwellings"));
    CU_ASSERT(program_ends("$P new $T/x --dwellings 0", 2, "1 to 2000"));
    CU_ASSERT(program_ends("$P new $T/x --dwellings 1000", 2, "more than `pumpday days` takes"));
    CU_ASSERT(program_ends("$P days $S --year --count 3", 2, "two numbers of days"));
    CU_ASSERT(program_ends("$P report scenarios/ten-flats --days 1 -o $T/r.html", 2, "one day"));
}

/* A household, its table, its files; a day of it alone gives the figures of its row. */
static void a_household_from_new_to_files(void)
{
    CU_ASSERT(program_ends("$P new $T/flats --dwellings 3 --people 2", 0, "household.csv"));
    CU_ASSERT(
        program_ends("$P days $T/flats --count 20 -o $T/days", 0, "pressure-start fails on "));
    CU_ASSERT(
        program_ends("grep -c . $T/days/days.csv; wc -l < $T/days/days-summary.csv", 0, "61\n4\n"));
    CU_ASSERT(program_ends("$P days $T/flats --count 20 | awk 'length > 100 { wide++ } END { print "
                           "wide + 0, \"wide\" }'",
                           0, "0 wide"));
    CU_ASSERT(program_ends("$P days $T/flats --day 7 -o $T/seven", 0, "day 7, weekend"));
    CU_ASSERT(program_ends(
        "$P compare $T/seven -o $T/out > /dev/null; "
        "a=$(awk -F, '$1 == \"pressure-start\" { print $2 }' $T/out/summary.csv); "
        "b=$(awk -F, '$1 == 7 && $3 == \"pressure-start\" { print $4 }' $T/days/days.csv); "
        "echo \"starts $a $b\"; test -n \"$a\" && test \"$a\" = \"$b\"",
        0, "starts "));
    CU_ASSERT(
        program_ends("$P compare $T/flats", 0, "(day 1 of its household, see `pumpday days`)"));
    // day 1 of seed 1 is what the commands for one day take
    CU_ASSERT(program_ends("$P compare $T/flats -o $T/out > /dev/null; "
                           "a=$(awk -F, '$1 == \"flow-start\" { print $2 }' $T/out/summary.csv); "
                           "b=$(awk -F, '$1 == 1 && $3 == \"flow-start\" { print $4 }' "
                           "$T/days/days.csv); test -n \"$a\" && test \"$a\" = \"$b\" && echo same",
                           0, "same"));
}

/* The scenario of ten flats: a day that passes, and six of a hundred that do not; its demand.csv is
 * the first of them, and the picture tells the same as the table. */
static void ten_flats(void)
{
    CU_ASSERT(program_ends("$P days scenarios/ten-flats --day 1 -o $T/one > /dev/null; "
                           "cmp $T/one/demand.csv scenarios/ten-flats/demand.csv && echo same",
                           0, "same"));
    CU_ASSERT(program_ends("$P compare scenarios/ten-flats --strategy pressure-start", 0,
                           "verdict                                               ok"));
    CU_ASSERT(program_ends("$P days scenarios/ten-flats -o $T/days", 0,
                           "pressure-start fails on 6 of 100 days (3 to 12 % of all days): days "));
    CU_ASSERT(program_ends("$P plot $T/days > /dev/null; grep -q 'pressure-start: 6 of 100 days "
                           "fail (2.8 to 12 % of all)' $T/days/days.svg && ls $T/days/days.png",
                           0, "days.png"));
}

static void units_and_strategies_are_chosen(void)
{
    CU_ASSERT(program_ends("$P new $T/us --dwellings 1 --units us", 0, "wrote"));
    CU_ASSERT(program_ends("$P days $T/us --count 5 --strategy flow-start", 0, "[psi]"));
    CU_ASSERT(program_ends("$P days $T/us --count 5 --units si", 0, "[kPa]"));
    CU_ASSERT(program_ends("$P days $T/us --count 5 --set pump.poles=9", 3, "pump.poles"));
}

/* A file of another kind stays as it is; a database is read by whatever reads SQLite. */
static void days_are_kept_in_a_database(void)
{
    CU_ASSERT(program_ends("$P new $T/one --dwellings 1", 0, "wrote"));
    CU_ASSERT(program_ends("seq 400 > $T/list; cp $T/list $T/copy; $P days $T/one --count 2 "
                           "--database $T/list",
                           5, "not a database"));
    CU_ASSERT(program_ends("cmp $T/list $T/copy && echo untouched", 0, "untouched"));
    CU_ASSERT(program_ends("$P days $T/one --count 2 --database $T/none/days.db", 5, "days.db"));
    CU_ASSERT(program_ends("$P days $T/one --count 2 --database $T/one/site.csv", 2,
                           "a file of a scenario"));
    CU_ASSERT(program_ends("$P days $T/one --count 7 --database $T/days.db > $T/a; $P days $T/one "
                           "--count 7 > $T/b; cmp $T/a $T/b && head -c 15 $T/days.db",
                           0, "SQLite format 3"));
}

/* A day must not take the place of a scenario's own draws; what spreadsheets or shells would run in
 * a use's name comes through as a name. */
static void nothing_is_lost_or_run(void)
{
    CU_ASSERT(program_ends("$P new $T/us --dwellings 1 --units us", 0, "wrote"));
    CU_ASSERT(program_ends("cp -r $T/us $T/copy; $P days $T/us --day 2 -o $T/us", 5,
                           "the folder holds another scenario"));
    CU_ASSERT(program_ends("diff -r $T/us $T/copy && echo untouched", 0, "untouched"));
    CU_ASSERT(program_ends("printf 'use,draws_per_day,flow [L/min],duration [s]\n=1+1 `date` "
                           "$(x),40,6,20\n' > $T/us/household.csv; $P days $T/us --day 2 -o $T/d",
                           0, "draws"));
    CU_ASSERT(program_ends("grep -c \"'=1+1 .date. .(x)\" $T/d/demand.csv | grep -v '^0' && $P "
                           "compare $T/d --strategy peak-only",
                           0, "verdict"));
}

/* Files are written whole or not at all. */
static void a_folder_that_takes_nothing(void)
{
    CU_ASSERT(program_ends("$P new $T/us --dwellings 1 --units us", 0, "wrote"));
    CU_ASSERT(program_ends("$P days $T/us --count 2 -o $T/us/site.csv", 5, "site.csv"));
    CU_ASSERT(program_ends("$P days $T/us --day 2 -o $T/us/site.csv", 5, "site.csv"));
}

/* A cistern filled by a trickle: its level goes from day to day, out of the database too. */
static void a_level_is_carried(void)
{
    CU_ASSERT(
        program_ends("cp -r scenarios/cistern-cottage $T/cottage; $P new $T/four --dwellings "
                     "1 --people 4 > $T/said; cp $T/four/household.csv $T/cottage; $P days "
                     "$T/cottage --carry --count 9 -o $T/whole > $T/a; $P days $T/cottage "
                     "--carry --count 4 --database $T/c.db > $T/b; $P days $T/cottage "
                     "--carry --count 9 --database $T/c.db -o $T/parts > $T/b; diff "
                     "$T/whole/days.csv $T/parts/days.csv && diff $T/a $T/b | grep -c '^[<>]'",
                     0, "2\n"));
    CU_ASSERT(program_ends("cat $T/a", 0, "as the one before it ended (tank, pump, water level)"));
    CU_ASSERT(program_ends("cat $T/a", 0, "water level at midnight [m]"));
    // the worst day closely is that of its row, whatever is carried into it
    CU_ASSERT(program_ends("w=$(sed -n 's/.*worst day, its number *\\([0-9]*\\).*/\\1/p' $T/a); "
                           "(grep \"^$w,[a-z]*,pressure-start,\" $T/whole/days.csv | cut -d, "
                           "-f4,5,9,10; tail -1 $T/whole/summary.csv | cut -d, -f2,3,5,6) | uniq | "
                           "wc -l",
                           0, "1\n"));
    // days alone are others, and have rows of their own
    CU_ASSERT(program_ends("$P days $T/cottage --count 9 --database $T/c.db -o $T/alone > $T/d; "
                           "diff -q $T/whole/days.csv $T/alone/days.csv",
                           1, "differ"));
}

/* The last year's present value is what the table tells; nothing is paid twice. */
static void the_years_add_up(void)
{
    CU_ASSERT(program_ends("$P days scenarios/ten-flats --count 20 --strategy pressure-start --set "
                           "cost.years=6 -o $T/cost > $T/a; t=$(sed -n 's/.*cost of 6 years "
                           ".EUR. *\\([0-9]*\\) (\\([0-9]*\\) to \\([0-9]*\\).*/\\2 \\1 \\3/p' "
                           "$T/a); f=$(tail -1 $T/cost/days-cost.csv | awk -F, '{ printf \"%.0f "
                           "%.0f %.0f\", $4, $5, $6 }'); test \"$t\" = \"$f\" && wc -l < "
                           "$T/cost/days-cost.csv",
                           0, "8\n"));
    // at no interest and prices that stay, the years just add up
    CU_ASSERT(
        program_ends("$P days scenarios/ten-flats --count 20 --strategy pressure-start --set "
                     "cost.discount_rate=0% --set cost.price_rise=0% -o $T/cost > $T/a; awk "
                     "-F, 'NR > 1 { s += $3; d = s - $5; if (d > 0.2 || d < -0.2) bad++ } END "
                     "{ print bad + 0, NR }' $T/cost/days-cost.csv",
                     0, "0 17\n"));
}

/* Nobody's scenario is written over, nor mixed with a day. */
static void a_day_has_a_folder_of_its_own(void)
{
    CU_ASSERT(program_ends("$P new $T/other > $T/said; cp -r $T/other $T/copy2; $P days "
                           "scenarios/ten-flats --day 3 -o $T/other",
                           5, "holds another scenario"));
    CU_ASSERT(program_ends("diff -r $T/other $T/copy2 && echo same", 0, "same"));
    CU_ASSERT(program_ends("$P days scenarios/ten-flats --day 3 -o $T/third && $P days "
                           "scenarios/ten-flats --day 4 -o $T/third && grep -c '^# Day 4 ' "
                           "$T/third/demand.csv",
                           0, "1\n"));
    CU_ASSERT(program_ends("printf 'from,to,price [EUR/kWh]\n0:00,6:00,1\n' > $T/third/tariff.csv; "
                           "$P days scenarios/ten-flats --day 4 -o $T/third",
                           5, "tariff.csv"));
}

/* What somebody else wrote into the file is no day. */
static void forged_days_are_made_anew(void)
{
    // a caret stands for the quote of a text
    static const char *const forged[] = {"starts=^abc^", "energy_J=-5", "energy_J=9e999",
                                         "starts=1e300", "faults=-1"};
    char line[512];

    for (size_t i = 0; i < sizeof forged / sizeof forged[0]; i++) {
        (void)snprintf(
            line, sizeof line,
            "command -v python3 > /dev/null || { echo same; exit; }; "
            "$P days scenarios/ten-flats --count 5 --strategy peak-only > $T/right; $P "
            "days scenarios/ten-flats --count 5 --strategy peak-only --database "
            "$T/f.db > $T/a; python3 -c \"import sqlite3 as s; c = s.connect('$T/f.db'); "
            "c.execute('update day set %s where day = 3'.replace('^', chr(39))); "
            "c.commit()\"; $P days scenarios/ten-flats --count 5 --strategy peak-only "
            "--database $T/f.db | cmp - $T/right && echo same",
            forged[i]);
        CU_ASSERT(program_ends(line, 0, "same"));
    }
}

/* Where nothing can be written, nothing is run first; what is not reached is told. */
static void limits_are_told(void)
{
    CU_ASSERT(
        program_ends("touch $T/file; timeout 20 $P days scenarios/ten-flats --count 100000 -o "
                     "$T/file/x",
                     5, "file"));
    CU_ASSERT(program_ends("timeout 20 $P report scenarios/ten-flats --days 100000 -o "
                           "$T/file/x.html",
                           5, "file"));
    CU_ASSERT(program_ends("$P days scenarios/ten-flats --until 2 --count 10 --strategy "
                           "pressure-start",
                           0, "2 % on either side is not reached"));
    CU_ASSERT(program_ends("$P days scenarios/ten-flats --set calendar.away=20 --count 10 "
                           "--strategy peak-only",
                           0, "--year takes them all"));
}

/* Results of another scenario that came later are not drawn beside the days. */
static void days_of_another_scenario_are_not_drawn(void)
{
    CU_ASSERT(program_ends("$P days scenarios/ten-flats --count 5 --strategy pressure-start -o "
                           "$T/mix > $T/said; $P plot $T/mix | grep -c days",
                           0, "4\n"));
    CU_ASSERT(program_ends("rm $T/mix/*.svg $T/mix/*.png; $P compare $S -o $T/mix > $T/said; $P "
                           "plot $T/mix | grep -c days",
                           1, "0\n"));
}

static void a_calendar_is_told(void)
{
    CU_ASSERT(program_ends("$P days scenarios/ten-flats --year --set calendar.away=14 --set "
                           "calendar.holidays=10 --strategy peak-only -o $T/year",
                           0, "14 with nobody at home"));
    CU_ASSERT(program_ends("grep -c '^[0-9]*,away,peak-only,0,' $T/year/days.csv", 0, "14\n"));
}

void suite_cli_days(void)
{
    CU_pSuite suite =
        CU_add_suite_with_setup_and_teardown("cli days", NULL, NULL, program_begin, program_end);

    CU_ADD_TEST(suite, usage_is_told);
    CU_ADD_TEST(suite, a_household_from_new_to_files);
    CU_ADD_TEST(suite, ten_flats);
    CU_ADD_TEST(suite, units_and_strategies_are_chosen);
    CU_ADD_TEST(suite, days_are_kept_in_a_database);
    CU_ADD_TEST(suite, a_level_is_carried);
    CU_ADD_TEST(suite, the_years_add_up);
    CU_ADD_TEST(suite, a_calendar_is_told);
    CU_ADD_TEST(suite, a_day_has_a_folder_of_its_own);
    CU_ADD_TEST(suite, forged_days_are_made_anew);
    CU_ADD_TEST(suite, limits_are_told);
    CU_ADD_TEST(suite, days_of_another_scenario_are_not_drawn);
    CU_ADD_TEST(suite, nothing_is_lost_or_run);
    CU_ADD_TEST(suite, a_folder_that_takes_nothing);
}
