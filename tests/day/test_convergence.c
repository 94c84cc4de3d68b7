/* A tenth of the usual tolerance changes no start and no total by more than 0.1 %. */
#include "day/folders.h"

#include "physics/near.h"

#include <CUnit/CUnit.h>

void suite_convergence(void);

static const double share = 1e-3;

/* Total of a day at the usual tolerance, of the closer one, with the name of what it is. */
static bool same(const char *what, double usual, double closer)
{
    bool good = fabs(usual - closer) <= share * fabs(closer);

    if (!good) {
        printf("\n    %s: %.9g at the usual tolerance, %.9g at a tenth of it", what, usual, closer);
    }
    return good;
}

static void check_days(const struct pd_day_result *usual, const struct pd_day_result *closer,
                       const char *folder)
{
    bool good = usual->starts == closer->starts &&
                same("run time", usual->run_time, closer->run_time) &&
                same("energy", usual->energy, closer->energy) &&
                same("supplied", usual->supplied, closer->supplied) &&
                same("delivered", usual->delivered, closer->delivered) &&
                same("leaked", usual->leaked, closer->leaked);

    if (!good) {
        printf("\n    in %s, %s, starts %d and %d", folder, usual->strategy.kind->name,
               usual->starts, closer->starts);
    }
    CU_ASSERT(good);
}

static void check_scenario(struct pd_day *usual, struct pd_day *closer, const char *folder)
{
    struct pd_scenario scenario;
    struct pd_plant plant;
    struct pd_error error = {.code = PD_DONE};
    struct pd_day_options options = pd_day_default(), tighter = options;
    struct pd_day_result first, second;

    tighter.relative_tolerance = options.relative_tolerance / 10;
    CU_ASSERT_FATAL(folders_read(folder, &scenario));
    CU_ASSERT_FATAL(pd_plant_build(&scenario, &plant, &error));
    for (size_t k = 0; k < pd_strategy_count; k++) {
        struct pd_strategy strategy = pd_strategy_for(pd_strategies[k], &plant);
        CU_ASSERT_FATAL(pd_day_run(usual, &plant, &strategy, &options, &first, &error));
        CU_ASSERT_FATAL(pd_day_run(closer, &plant, &strategy, &tighter, &second, &error));
        // a day on which nothing happens takes no more steps; one with the pump does
        CU_ASSERT(second.effort.steps > first.effort.steps || first.run_time == 0);
        check_days(&first, &second, folder);
    }
    pd_plant_free(&plant);
    pd_scenario_free(&scenario);
}

static void a_closer_tolerance_changes_nothing(void)
{
    static struct folders folders;
    struct pd_error error = {.code = PD_DONE};
    struct pd_day *usual = pd_day_create(&error), *closer = pd_day_create(&error);

    CU_ASSERT_FATAL(usual != NULL && closer != NULL);
    folders_list(&folders);
    CU_ASSERT(folders.count >= 6);
    for (size_t i = 0; i < folders.count; i++) {
        check_scenario(usual, closer, folders.path[i]);
    }
    pd_day_free(usual);
    pd_day_free(closer);
}

void suite_convergence(void)
{
    CU_pSuite suite = CU_add_suite("convergence", NULL, NULL);

    CU_ADD_TEST(suite, a_closer_tolerance_changes_nothing);
}
