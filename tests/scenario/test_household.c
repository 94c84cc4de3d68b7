/* A household's days: random numbers against known answers and closed forms, days against the
 * theory of pulses, rows of household.csv as they are read and refused. */
#include "scenario/folder.h"
#include "scenario/random.h"

#include <pumpday/scenario.h>

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

void suite_household(void);

static const double litre_a_minute = 1e-3 / 60;

/* Known answers of Philox 4x32 of ten rounds, from the test vectors that go with the paper's code;
 * from memory. */
static void bits_are_those_of_the_paper(void)
{
    static const struct {
        uint32_t counter[4], key[2], first, second;
    } known[] = {
        {{0, 0, 0, 0}, {0, 0}, 0x6627e8d5U, 0xe169c58dU},
        {{0xffffffffU, 0xffffffffU, 0xffffffffU, 0xffffffffU},
         {0xffffffffU, 0xffffffffU},
         0x408f276dU,
         0x41c83b0eU},
        {{0x243f6a88U, 0x85a308d3U, 0x13198a2eU, 0x03707344U},
         {0xa4093822U, 0x299f31d0U},
         0xd16cfe09U,
         0x94fdccebU},
    };

    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++) {
        struct random_stream stream = {.left = 0};
        memcpy(stream.counter, known[i].counter, sizeof stream.counter);
        memcpy(stream.key, known[i].key, sizeof stream.key);
        double expected =
            (floor(known[i].first / 32.0) * 67108864.0 + floor(known[i].second / 64.0) + 0.5) /
            9007199254740992.0;
        CU_ASSERT_EQUAL(random_uniform(&stream), expected);
    }
}

enum { MANY = 200000 };

/* Mean and standard deviation of many numbers. */
struct moments {
    double mean, deviation;
};

static struct moments moments_of(double (*draw)(struct random_stream *, double), double spread)
{
    struct random_stream stream = random_stream_for(7, 3, 1);
    double sum = 0, squares = 0;

    for (int i = 0; i < MANY; i++) {
        double value = draw(&stream, spread);
        sum += value;
        squares += value * value;
    }
    double mean = sum / MANY;
    return (struct moments){mean, sqrt(squares / MANY - mean * mean)};
}

/* Mean 1 and the spread asked for; within five deviations of the mean's own error, and for the
 * spread within what the fourth moment allows, roughly. */
static void laws_have_their_moments(void)
{
    static const double spreads[] = {0, 0.14, 0.5, 1, 1.3};

    for (size_t i = 0; i < sizeof spreads / sizeof spreads[0]; i++) {
        struct moments gamma = moments_of(random_gamma, spreads[i]);
        struct moments lognormal = moments_of(random_lognormal, spreads[i]);
        double error = 5 * spreads[i] / sqrt(MANY) + 1e-12;
        CU_ASSERT_DOUBLE_EQUAL(gamma.mean, 1, error);
        CU_ASSERT_DOUBLE_EQUAL(lognormal.mean, 1, error);
        CU_ASSERT_DOUBLE_EQUAL(gamma.deviation, spreads[i], 0.02 * spreads[i] + 1e-7);
        CU_ASSERT_DOUBLE_EQUAL(lognormal.deviation, spreads[i], 0.05 * spreads[i] + 1e-7);
    }
}

/* P(X > 1) of an exponential is 1/e, P(N = 1) of the geometric law 1 / mean, and the normal has 2.5
 * percent beyond 1.96 on one side. */
static void tails_are_those_of_the_laws(void)
{
    struct random_stream stream = random_stream_for(11, 1, 0);
    int over = 0, single = 0, beyond = 0;
    double clustered = 0;

    for (int i = 0; i < MANY; i++) {
        int count = random_geometric(&stream, 1.9);
        over += random_exponential(&stream) > 1;
        beyond += random_normal(&stream) > 1.959964;
        single += count == 1;
        clustered += count;
    }
    CU_ASSERT_DOUBLE_EQUAL((double)over / MANY, exp(-1), 5 * sqrt(0.233 / MANY));
    CU_ASSERT_DOUBLE_EQUAL((double)beyond / MANY, 0.025, 5 * sqrt(0.025 / MANY));
    CU_ASSERT_DOUBLE_EQUAL((double)single / MANY, 1 / 1.9, 5 * sqrt(0.25 / MANY));
    CU_ASSERT_DOUBLE_EQUAL(clustered / MANY, 1.9, 5 * sqrt(1.9 * 0.9 / MANY));
}

static struct pd_use even_use(double draws, double flow, double duration)
{
    struct pd_use use = {
        .name = "pulse",
        .draws_per_day = draws,
        .flow = flow * litre_a_minute,
        .duration = duration,
        .volume = NAN,
        .weekday = 1,
        .weekend = 1,
        .cluster = 1,
    };

    for (int i = 0; i < PD_USE_HOURS; i++) {
        use.hours[i] = 1.0 / PD_USE_HOURS;
    }
    return use;
}

static int open_at(const struct pd_draws *draws, double time)
{
    int open = 0;

    for (size_t i = 0; i < draws->count; i++) {
        open += draws->draw[i].time <= time && time < draws->draw[i].time + draws->draw[i].duration;
    }
    return open;
}

/* Pulses that arrive at an even rate L with exponential durations of mean t: the number open is
 * that of the queue M/G/infinity, Poisson of mean L t, and its autocovariance falls as exp(-lag /
 * t). Closed forms of queueing theory; here L = 60 an hour and t = 1 min, so rho = 1. */
static void pulses_are_those_of_the_theory(void)
{
    enum { DAYS = 400, LOOKS = 40 };
    struct pd_use use = even_use(1440, 6, 60);
    struct pd_draws draws = {0};
    struct pd_error error = {.code = PD_DONE};
    double sum = 0, squares = 0, products = 0, closed = 0, n = (double)DAYS * LOOKS;

    use.law = PD_LAW_GAMMA;
    use.spread = 1;
    for (long day = 1; day <= DAYS; day++) {
        CU_ASSERT_FATAL(pd_household_day(&use, 1, NULL, 5, day, &draws, &error));
        // half an hour apart nothing is left of the last look
        for (int look = 0; look < LOOKS; look++) {
            double time = 7200 + 1800.0 * look;
            int now = open_at(&draws, time), then = open_at(&draws, time + 60);
            sum += now;
            squares += now * now;
            products += now * then;
            closed += now == 0;
        }
    }
    pd_draws_free(&draws);
    double mean = sum / n;
    CU_ASSERT_DOUBLE_EQUAL(mean, 1, 5 / sqrt(n));
    CU_ASSERT_DOUBLE_EQUAL(squares / n - mean * mean, 1, 5 * sqrt(3 / n));
    CU_ASSERT_DOUBLE_EQUAL(closed / n, exp(-1), 5 * sqrt(0.233 / n));
    CU_ASSERT_DOUBLE_EQUAL(products / n - mean * mean, exp(-1), 5 * sqrt(2 / n));
}

/* Counts of a use over many days. */
static struct moments counts_of(const struct pd_use *use, long days, bool weekends)
{
    struct pd_draws draws = {0};
    struct pd_error error = {.code = PD_DONE};
    double sum = 0, squares = 0, n = 0;

    for (long day = 1; day <= days; day++) {
        CU_ASSERT_FATAL(pd_household_day(use, 1, NULL, 2, day, &draws, &error));
        if (pd_day_is_weekend(day) == weekends) {
            sum += (double)draws.count;
            squares += (double)draws.count * (double)draws.count;
            n++;
        }
    }
    pd_draws_free(&draws);
    return (struct moments){sum / n, sqrt(squares / n - sum / n * sum / n)};
}

/* A count's mean is what the row says, its variance that of a compound Poisson law whose rate is
 * gamma over days: m (2c - 1) + (m s)^2 for clusters of mean c, geometric, and a day's spread s. */
static void counts_have_their_mean_and_variance(void)
{
    struct pd_use use = even_use(40, 6, 20);

    use.cluster = 1.9;
    use.gap = 60;
    use.day_spread = 0.3;
    use.weekend = 1.5;
    struct moments weekday = counts_of(&use, 7000, false);
    struct moments weekend = counts_of(&use, 7000, true);
    double variance = 40 * 2.8 + 144;
    CU_ASSERT_DOUBLE_EQUAL(weekday.mean, 40, 5 * sqrt(variance / 5000));
    CU_ASSERT_DOUBLE_EQUAL(weekday.deviation, sqrt(variance), 0.05 * sqrt(variance));
    CU_ASSERT_DOUBLE_EQUAL(weekend.mean, 60, 5 * sqrt((60 * 2.8 + 324) / 2000));
}

static void days_are_five_to_two(void)
{
    for (long day = 1; day <= 21; day++) {
        CU_ASSERT_EQUAL(pd_day_is_weekend(day), day % 7 == 6 || day % 7 == 0);
    }
}

static bool same_draw(const struct pd_draw *a, const struct pd_draw *b)
{
    bool same_end = isnan(a->volume) ? a->duration == b->duration : a->volume == b->volume;

    return a->time == b->time && a->flow == b->flow && same_end &&
           strcmp(a->fixture, b->fixture) == 0;
}

/* The draws of one use of a day, in their order. */
static size_t only(const struct pd_draws *draws, const char *name, struct pd_draw *list)
{
    size_t count = 0;

    for (size_t i = 0; i < draws->count; i++) {
        if (strcmp(draws->draw[i].fixture, name) == 0) {
            list[count++] = draws->draw[i];
        }
    }
    return count;
}

/* A day hangs on seed and number alone, and a use's draws not on those of others. */
static void a_day_is_what_its_number_says(void)
{
    static struct pd_draw first[PD_DRAWS_MOST], second[PD_DRAWS_MOST];
    struct pd_use uses[PD_USES_MOST];
    size_t count = pd_household_usual(3, 2, uses);
    struct pd_draws draws = {0}, again = {0};
    struct pd_error error = {.code = PD_DONE};

    CU_ASSERT_FATAL(pd_household_day(uses, count, NULL, 4, 12, &draws, &error));
    CU_ASSERT_FATAL(pd_household_day(uses, count, NULL, 4, 13, &again, &error));
    CU_ASSERT_NOT_EQUAL(draws.count, 0);
    CU_ASSERT_FALSE(draws.count == again.count && same_draw(draws.draw, again.draw));
    CU_ASSERT_FATAL(pd_household_day(uses, count, NULL, 5, 12, &again, &error));
    CU_ASSERT_FALSE(draws.count == again.count && same_draw(draws.draw, again.draw));
    // the list that held other days gives the same as a new one; the last use is left out
    CU_ASSERT_FATAL(pd_household_day(uses, count - 1, NULL, 4, 12, &again, &error));
    for (size_t i = 0; i + 1 < count; i++) {
        size_t n = only(&draws, uses[i].name, first);
        CU_ASSERT_EQUAL(n, only(&again, uses[i].name, second));
        for (size_t k = 0; k < n; k++) {
            CU_ASSERT(same_draw(&first[k], &second[k]));
        }
    }
    pd_draws_free(&draws);
    pd_draws_free(&again);
}

static bool is_step(double value, double step)
{
    return fabs(value / step - round(value / step)) < 1e-6 * fmax(1.0, value / step) && value > 0;
}

/* What demand.csv can hold, in order, within the day, to its steps. */
static void figures_are_round_and_in_order(void)
{
    struct pd_use uses[PD_USES_MOST];
    size_t count = pd_household_usual(5, 3, uses);
    struct pd_draws draws = {0};
    struct pd_error error = {.code = PD_DONE};
    bool good = true;

    // clusters that run over midnight
    uses[0].gap = 7200;
    for (long day = 1; day <= 50; day++) {
        CU_ASSERT_FATAL(pd_household_day(uses, count, NULL, 9, day, &draws, &error));
        for (size_t i = 0; i < draws.count; i++) {
            const struct pd_draw *draw = &draws.draw[i];
            good = good && draw->time >= 0 && draw->time < 86400 &&
                   is_step(draw->flow / litre_a_minute, 0.01) &&
                   (isnan(draw->volume) ? is_step(draw->duration, 0.1)
                                        : is_step(draw->volume / 1e-3, 0.01)) &&
                   (i == 0 || draw->time >= draws.draw[i - 1].time);
        }
    }
    CU_ASSERT(good);
    pd_draws_free(&draws);
}

/* Hours without a weight have no draws, the busiest the most: 14 clusters of 20 in it. */
static void draws_keep_to_their_hours(void)
{
    struct pd_use use = even_use(20, 6, 10);
    struct pd_draws draws = {0};
    struct pd_error error = {.code = PD_DONE};
    int seen[PD_USE_HOURS] = {0}, total = 0;

    for (int i = 0; i < PD_USE_HOURS; i++) {
        use.hours[i] = i == 7 ? 0.7 : i == 19 ? 0.3 : 0;
    }
    for (long day = 1; day <= 500; day++) {
        CU_ASSERT_FATAL(pd_household_day(&use, 1, NULL, 3, day, &draws, &error));
        for (size_t i = 0; i < draws.count; i++) {
            seen[(int)(draws.draw[i].time / 3600)]++;
            total++;
        }
    }
    CU_ASSERT_EQUAL(seen[7] + seen[19], total);
    CU_ASSERT_DOUBLE_EQUAL((double)seen[7] / total, 0.7, 5 * sqrt(0.21 / total));
    pd_draws_free(&draws);
}

static void too_many_draws_are_refused(void)
{
    struct pd_use use = even_use(1e5, 6, 10);
    struct pd_draws draws = {0};
    struct pd_error error = {.code = PD_DONE};

    CU_ASSERT_FALSE(pd_household_day(&use, 1, NULL, 1, 1, &draws, &error));
    CU_ASSERT_EQUAL(error.code, PD_BAD_INPUT);
    CU_ASSERT_PTR_NOT_NULL(strstr(error.text, "20000"));
    pd_draws_free(&draws);
}

static struct pd_faults faults;

static bool reads(const struct folder *folder, const char *text, struct pd_scenario *scenario)
{
    faults.count = 0;
    folder_write_text(folder, "household.csv", text);
    return pd_scenario_read(folder->path, NULL, 0, scenario, &faults);
}

static void a_row_is_read(void)
{
    struct pd_scenario scenario;
    struct folder folder;

    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    CU_ASSERT_FATAL(reads(&folder,
                          "use,draws_per_day,flow [L/min],volume [L],duration [min],hours,law\n"
                          "bath,0.5,12,120,,even,gamma\n"
                          "tap,12,6,,0.5,0 0 0 0 0 0 1 1 0 0 0 0 0 0 0 0 0 0 2 0 0 0 0 0,\n",
                          &scenario));
    CU_ASSERT_EQUAL_FATAL(scenario.use_count, 2);
    CU_ASSERT_STRING_EQUAL(scenario.uses[0].name, "bath");
    CU_ASSERT_DOUBLE_EQUAL(scenario.uses[0].flow, 12 * litre_a_minute, 1e-12);
    CU_ASSERT_DOUBLE_EQUAL(scenario.uses[0].volume, 0.12, 1e-12);
    CU_ASSERT(isnan(scenario.uses[0].duration));
    CU_ASSERT_EQUAL(scenario.uses[0].law, PD_LAW_GAMMA);
    CU_ASSERT_EQUAL(scenario.uses[1].law, PD_LAW_LOGNORMAL);
    CU_ASSERT_EQUAL(scenario.uses[1].cluster, 1);
    CU_ASSERT_EQUAL(scenario.uses[1].weekend, 1);
    CU_ASSERT_DOUBLE_EQUAL(scenario.uses[1].duration, 30, 1e-12);
    CU_ASSERT_EQUAL(scenario.uses[1].hours[18], 0.5);
    // its own draws go before those of the household
    CU_ASSERT_EQUAL(scenario.draw_count, 2);
    CU_ASSERT_FALSE(scenario.drawn);
    pd_scenario_free(&scenario);
    folder_remove(&folder);
}

#define HEAD "use,draws_per_day,flow [L/min],duration [s],volume [L],hours,law,cluster\n"

static void wrong_rows_are_told(void)
{
    static const struct {
        const char *text, *item, *words;
        int line;
    } wrong[] = {
        {HEAD "a,1,6,10,5,,,\n", "duration", "both a duration and a volume", 2},
        {HEAD "a,1,6,,,,,\n", "duration", "neither", 2},
        {HEAD "a,1,6,10,,noon,,\n", "hours", "24 numbers", 2},
        {HEAD "a,1,6,10,,1 2 3,,\n", "hours", "24 numbers", 2},
        {HEAD "a,1,6,10,,0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0,,\n", "hours", "all of",
         2},
        {HEAD "a,1,6,10,,,,\nb,2,6,10,,,weibull,\n", "law", "lognormal or gamma", 3},
        {HEAD "a,-1,6,10,,,,\n", "draws_per_day", "-1", 2},
        {HEAD "a,1,6,10,,,,0.5\n", "cluster", "0.5", 2},
        {HEAD ",1,6,10,,,,\n", "use", "no name", 2},
        {HEAD "a,1,,10,,,,\n", "flow", "", 2},
        {HEAD, NULL, "no rows", 0},
        {"use,flow [L/min],duration [s]\na,6,10\n", "draws_per_day", "", 1},
    };
    struct pd_scenario scenario;
    struct folder folder;

    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        CU_ASSERT_FALSE(reads(&folder, wrong[i].text, &scenario));
        CU_ASSERT_EQUAL_FATAL(faults.count, 1);
        const struct pd_error *fault = &faults.list[0];
        CU_ASSERT_EQUAL(fault->line, wrong[i].line);
        CU_ASSERT_PTR_NOT_NULL(strstr(fault->file, "household.csv"));
        CU_ASSERT_PTR_NOT_NULL(strstr(fault->text, wrong[i].words));
        CU_ASSERT(wrong[i].item == NULL || strcmp(fault->item, wrong[i].item) == 0);
    }
    folder_remove(&folder);
}

/* What `new --dwellings` writes is what the usual household is, to the digits written, in both
 * systems; without a demand.csv the draws are those of its first day. */
static void a_new_household_is_the_usual_one(void)
{
    for (enum pd_unit_system units = PD_UNITS_SI; units <= PD_UNITS_US; units++) {
        struct pd_template template = {.units = units, .dwellings = 4, .people = 2.5};
        struct pd_use uses[PD_USES_MOST];
        size_t count = pd_household_usual(4, 2.5, uses);
        struct pd_error error = {.code = PD_DONE};
        struct pd_scenario scenario;
        struct folder folder;

        CU_ASSERT_TRUE_FATAL(folder_make(&folder));
        CU_ASSERT_FATAL(pd_scenario_write_template(folder.path, &template, &error));
        faults.count = 0;
        CU_ASSERT_FATAL(pd_scenario_read(folder.path, NULL, 0, &scenario, &faults));
        CU_ASSERT_EQUAL(pd_scenario_units(&scenario), units);
        CU_ASSERT(scenario.drawn);
        CU_ASSERT_NOT_EQUAL(scenario.draw_count, 0);
        CU_ASSERT_EQUAL_FATAL(scenario.use_count, count);
        for (size_t i = 0; i < count; i++) {
            const struct pd_use *a = &uses[i], *b = &scenario.uses[i];
            CU_ASSERT_DOUBLE_EQUAL(b->draws_per_day / a->draws_per_day, 1, 1e-3);
            CU_ASSERT_DOUBLE_EQUAL(b->flow / a->flow, 1, 1e-3);
            CU_ASSERT_DOUBLE_EQUAL(pd_use_volume(b) / pd_use_volume(a), 1, 1e-3);
            CU_ASSERT_DOUBLE_EQUAL(b->day_spread, a->day_spread, 1e-3);
            for (size_t hour = 0; hour < 24; hour++) {
                CU_ASSERT_EQUAL(b->hours[hour], a->hours[hour]);
            }
        }
        pd_scenario_free(&scenario);
        folder_remove(&folder);
    }
}

void suite_household(void)
{
    CU_pSuite suite = CU_add_suite("household", NULL, NULL);

    CU_ADD_TEST(suite, bits_are_those_of_the_paper);
    CU_ADD_TEST(suite, laws_have_their_moments);
    CU_ADD_TEST(suite, tails_are_those_of_the_laws);
    CU_ADD_TEST(suite, pulses_are_those_of_the_theory);
    CU_ADD_TEST(suite, counts_have_their_mean_and_variance);
    CU_ADD_TEST(suite, days_are_five_to_two);
    CU_ADD_TEST(suite, a_day_is_what_its_number_says);
    CU_ADD_TEST(suite, figures_are_round_and_in_order);
    CU_ADD_TEST(suite, draws_keep_to_their_hours);
    CU_ADD_TEST(suite, too_many_draws_are_refused);
    CU_ADD_TEST(suite, a_row_is_read);
    CU_ADD_TEST(suite, wrong_rows_are_told);
    CU_ADD_TEST(suite, a_new_household_is_the_usual_one);
}
