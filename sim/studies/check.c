/* Puts the lines of a check together: the installation first, then each strategy's day. */
#include "studies/findings.h"

#include <string.h>

struct pd_check_options pd_check_default(void)
{
    return (struct pd_check_options){.day = pd_day_default()};
}

static bool check_strategy(struct pd_findings *findings, struct pd_day *day,
                           const struct pd_plant *plant, const struct pd_strategy_kind *kind,
                           const struct pd_day_options *options, struct pd_error *error)
{
    struct pd_strategy strategy = pd_strategy_for(kind, plant);
    struct pd_day_result result;

    if (!pd_day_run(day, plant, &strategy, options, &result, error)) {
        return false;
    }
    findings_day(findings, plant, &result);
    return true;
}

static bool check_strategies(struct pd_findings *findings, const struct pd_plant *plant,
                             const struct pd_check_options *options, struct pd_error *error)
{
    bool all = options->strategy_count == 0;
    size_t count = all ? pd_strategy_count : options->strategy_count;
    struct pd_day *day = pd_day_create(error);
    bool good = day != NULL;

    for (size_t i = 0; good && i < count; i++) {
        const struct pd_strategy_kind *kind = all ? pd_strategies[i] : options->strategies[i];
        good = check_strategy(findings, day, plant, kind, &options->day, error);
    }
    pd_day_free(day);
    return good;
}

bool pd_check(const struct pd_scenario *scenario, const struct pd_check_options *options,
              struct pd_findings *findings, struct pd_error *error)
{
    struct pd_plant plant;

    memset(findings, 0, sizeof *findings);
    if (!pd_plant_build(scenario, &plant, error)) {
        return false;
    }
    findings_site(findings, &plant);
    bool good = check_strategies(findings, &plant, options, error);
    pd_plant_free(&plant);
    return good;
}
