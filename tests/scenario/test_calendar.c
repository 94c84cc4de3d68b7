/* Which days are weekends, holidays, absences: counts against the chances that were told. */
#include <pumpday/scenario.h>

#include <CUnit/CUnit.h>
#include <math.h>

void suite_calendar(void);

enum { YEAR = 365, YEARS = 60 };

/* Days of a kind in a year, from 0. */
static int count_of(const struct pd_calendar *calendar, uint64_t seed, long year,
                    enum pd_day_kind kind)
{
    int count = 0;

    for (long day = year * YEAR + 1; day <= (year + 1) * YEAR; day++) {
        count += pd_day_kind_of(calendar, seed, day) == kind;
    }
    return count;
}

static void without_a_calendar_there_are_weeks(void)
{
    struct pd_calendar none = {0};

    for (long day = 1; day <= 21; day++) {
        bool weekend = day % 7 == 6 || day % 7 == 0;
        enum pd_day_kind kind = weekend ? PD_DAY_WEEKEND : PD_DAY_WEEKDAY;
        CU_ASSERT_EQUAL(pd_day_kind_of(NULL, 3, day), kind);
        CU_ASSERT_EQUAL(pd_day_kind_of(&none, 3, day), kind);
    }
}

/* One absence on end in each year, as long as told, after the first week. */
static void an_absence_is_one_a_year(void)
{
    struct pd_calendar calendar = {.away = 14};
    long firsts = 0;

    for (long year = 0; year < YEARS; year++) {
        int changes = 0;
        long first = -1;
        CU_ASSERT_EQUAL(count_of(&calendar, 1, year, PD_DAY_AWAY), 14);
        for (long day = 1; day <= YEAR; day++) {
            bool away = pd_day_kind_of(&calendar, 1, year * YEAR + day) == PD_DAY_AWAY;
            bool before =
                day > 1 && pd_day_kind_of(&calendar, 1, year * YEAR + day - 1) == PD_DAY_AWAY;
            changes += away != before;
            first = away && first < 0 ? day : first;
        }
        CU_ASSERT(changes == 2 || (changes == 1 && first == YEAR - 13));
        CU_ASSERT(first > 7);
        firsts += first;
    }
    // begins are even between day 8 and day 351: their mean within four of its own deviations
    CU_ASSERT_DOUBLE_EQUAL((double)firsts / YEARS, 180, 4 * 344 / sqrt(12.0 * YEARS));
}

/* A binomial number: 261 weekdays, each with a chance of 11 in 261. */
static void holidays_are_as_many_as_told(void)
{
    struct pd_calendar calendar = {.holidays = 11};
    double sum = 0;

    for (long year = 0; year < YEARS; year++) {
        sum += count_of(&calendar, 7, year, PD_DAY_HOLIDAY);
    }
    double deviation = sqrt(11 * (1 - 11.0 / 261) / YEARS);
    CU_ASSERT_DOUBLE_EQUAL(sum / YEARS, 11, 4 * deviation);
    CU_ASSERT_EQUAL(pd_day_kind_of(&calendar, 7, 1), PD_DAY_WEEKDAY);
    // other seeds, other days
    int same = 0;
    for (long day = 1; day <= YEAR; day++) {
        same += pd_day_kind_of(&calendar, 7, day) == PD_DAY_HOLIDAY &&
                pd_day_kind_of(&calendar, 8, day) == PD_DAY_HOLIDAY;
    }
    CU_ASSERT(same < 5);
}

/* A holiday has a weekend's draws, an absence none; other days stay as they are. */
static void draws_follow_the_kind(void)
{
    struct pd_calendar calendar = {.holidays = 60, .away = 30};
    struct pd_use uses[PD_USES_MOST];
    size_t count = pd_household_usual(20, 3, uses);
    struct pd_draws with = {0}, without = {0};
    struct pd_error error = {.code = PD_DONE};
    int seen[PD_DAY_KIND_COUNT] = {0};

    for (size_t i = 0; i < count; i++) {
        uses[i].weekday = 1;
        uses[i].weekend = 2;
    }
    for (long day = 1; day <= YEAR; day++) {
        enum pd_day_kind kind = pd_day_kind_of(&calendar, 4, day);
        CU_ASSERT_FATAL(pd_household_day(uses, count, &calendar, 4, day, &with, &error));
        CU_ASSERT_FATAL(pd_household_day(uses, count, NULL, 4, day, &without, &error));
        seen[kind]++;
        if (kind == PD_DAY_AWAY) {
            CU_ASSERT_EQUAL(with.count, 0);
        } else if (kind == PD_DAY_HOLIDAY) {
            CU_ASSERT((double)with.count > 1.5 * (double)without.count);
        } else {
            CU_ASSERT_EQUAL(with.count, without.count);
        }
    }
    CU_ASSERT_EQUAL(seen[PD_DAY_AWAY], 30);
    CU_ASSERT(seen[PD_DAY_HOLIDAY] > 20);
    pd_draws_free(&with);
    pd_draws_free(&without);
}

void suite_calendar(void)
{
    CU_pSuite suite = CU_add_suite("calendar", NULL, NULL);

    CU_ADD_TEST(suite, without_a_calendar_there_are_weeks);
    CU_ADD_TEST(suite, an_absence_is_one_a_year);
    CU_ADD_TEST(suite, holidays_are_as_many_as_told);
    CU_ADD_TEST(suite, draws_follow_the_kind);
}
