/* What ranks say to each other: a job arrives as it was, and days of it are the same. */
#include "studies/days_wire.h"

#include <CUnit/CUnit.h>
#include <stdlib.h>
#include <string.h>

void suite_days_wire(void);

enum { DAYS = 3 };

static struct pd_scenario scenario;
static struct pd_faults faults;
static struct pd_strategy strategies[PD_STRATEGIES_MOST];
static struct days_work work;

/* One with draws of its own and a supply that changes, and a household beside them. */
static int begin(void)
{
    struct pd_error error = {.code = PD_DONE};

    faults.count = 0;
    if (!pd_scenario_read("scenarios/six-flats", NULL, 0, &scenario, &faults)) {
        return 1;
    }
    scenario.use_count = pd_household_usual(1, 2, scenario.uses);
    work = (struct days_work){
        .scenario = &scenario,
        .strategies = strategies,
        .strategy_count = 2,
        .seed = 7,
        .jobs = 2,
        .day = pd_day_default(),
    };
    return days_settle(&scenario, pd_strategies, 2, strategies, NULL, &error) ? 0 : 1;
}

static int end(void)
{
    pd_scenario_free(&scenario);
    return 0;
}

static bool always(void *context)
{
    (void)context;
    return true;
}

/* A job's days, from day `first` on. */
struct found {
    double figure[DAYS * PD_STRATEGIES_MOST * PD_FIGURE_COUNT];
    uint32_t faults[DAYS * PD_STRATEGIES_MOST];
};

static struct found days_of(const struct days_work *job, long first)
{
    struct pd_error error = {.code = PD_DONE};
    struct found found;

    memset(&found, 0, sizeof found);
    struct days_block block = {first, first + DAYS, found.figure, found.faults, NULL};
    CU_ASSERT_FATAL(days_run_block(job, &block, always, NULL, &error));
    return found;
}

/* The job as a message; its data is NULL, and the test has failed, where memory runs out. */
static struct ranks_message packed(void)
{
    struct ranks_message message = {0};

    message.data = wire_pack_job(&work, 5, &message.size);
    if (message.data == NULL) {
        CU_FAIL("no memory");
    }
    return message;
}

/* The memory of what is sent is the sender's no more when its days are made. */
static void a_job_arrives_as_it_was(void)
{
    struct pd_error error = {.code = PD_DONE};
    struct pd_scenario theirs;
    struct pd_strategy settled[PD_STRATEGIES_MOST];
    struct days_work arrived;
    struct ranks_message message = packed();

    if (message.data == NULL) {
        return;
    }
    CU_ASSERT_FATAL(wire_unpack_job(&message, &theirs, settled, &arrived, &error));
    memset(message.data, 0xff, message.size);
    free(message.data);
    CU_ASSERT_EQUAL(arrived.jobs, 5);
    CU_ASSERT_EQUAL(arrived.seed, 7);
    CU_ASSERT_EQUAL_FATAL(theirs.draw_count, scenario.draw_count);
    CU_ASSERT_EQUAL(
        memcmp(theirs.draws, scenario.draws, scenario.draw_count * sizeof *scenario.draws), 0);
    CU_ASSERT_EQUAL_FATAL(theirs.supply_count, scenario.supply_count);
    CU_ASSERT(theirs.supply_count > 0);
    struct found here = days_of(&work, 4), there = days_of(&arrived, 4);
    const void *left = &here, *right = &there;
    CU_ASSERT_EQUAL(memcmp(left, right, sizeof here), 0);
    pd_scenario_free(&theirs);
}

static void another_program_is_refused(void)
{
    struct pd_error error = {.code = PD_DONE};
    struct pd_scenario theirs;
    struct pd_strategy settled[PD_STRATEGIES_MOST];
    struct days_work arrived;
    struct ranks_message message = packed();

    if (message.data == NULL) {
        return;
    }
    message.size--;
    CU_ASSERT_FALSE(wire_unpack_job(&message, &theirs, settled, &arrived, &error));
    CU_ASSERT(strstr(error.text, "another program") != NULL);
    message.size++;
    // the version comes first
    *(char *)message.data = 'x';
    error.code = PD_DONE;
    CU_ASSERT_FALSE(wire_unpack_job(&message, &theirs, settled, &arrived, &error));
    free(message.data);
}

static uint64_t trait_of(const struct days_work *job)
{
    struct pd_error error = {.code = PD_DONE};
    uint64_t trait = 0;

    CU_ASSERT_FATAL(wire_trait(job, always, NULL, &trait, &error));
    return trait;
}

/* The last digits of one day tell ranks apart. */
static void a_trait_is_of_the_last_digit(void)
{
    struct days_work other = work;

    other.jobs = 1;
    CU_ASSERT_EQUAL(trait_of(&work), trait_of(&other));
    other.day.relative_tolerance *= 1 + 1e-9;
    CU_ASSERT_NOT_EQUAL(trait_of(&work), trait_of(&other));
}

void suite_days_wire(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("days wire", begin, end, NULL, NULL);

    CU_ADD_TEST(suite, a_job_arrives_as_it_was);
    CU_ADD_TEST(suite, another_program_is_refused);
    CU_ADD_TEST(suite, a_trait_is_of_the_last_digit);
}
