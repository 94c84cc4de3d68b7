/* Puts the lines of a check together: the installation first, then each strategy's day. */
#include "studies/findings.h"

#include <math.h>
#include <string.h>

struct pd_check_options pd_check_default(void)
{
    return (struct pd_check_options){.day = pd_day_default()};
}

static bool holds(const struct pd_finding *line)
{
    return line->sense == PD_SENSE_AT_MOST ? line->found <= line->limit
                                           : line->found >= line->limit;
}

void findings_add(struct pd_findings *findings, const struct pd_finding *line)
{
    bool judged = line->sense != PD_SENSE_TELLS && !line->decided;
    bool known = isfinite(line->found) || line->words != NULL;

    if (!known || findings->count == PD_FINDINGS_MOST) {
        return;
    }
    struct pd_finding *added = &findings->list[findings->count++];
    *added = *line;
    // what is known in words alone has nothing to be measured by
    if (judged && isfinite(line->found) && holds(line)) {
        added->level = PD_LEVEL_OK;
        added->note = NULL;
    }
    findings->fails += added->level == PD_LEVEL_FAIL;
    findings->warnings += added->level == PD_LEVEL_WARN;
}

static bool check_strategy(struct pd_findings *findings, struct pd_day *day,
                           const struct pd_plant *plant, const struct pd_strategy_kind *kind,
                           const struct pd_day_options *options, struct pd_error *error)
{
    struct pd_strategy strategy = pd_strategy_for(kind, plant);
    struct pd_day_result result;
    struct watched_day seen;

    if (!watched_day_run(day, plant, &strategy, options, &result, &seen, error)) {
        return false;
    }
    findings_day(findings, plant, &seen);
    return true;
}

static bool check_strategies(struct pd_findings *findings, const struct pd_plant *plant,
                             const struct pd_check_options *options, struct pd_error *error)
{
    bool all = options->strategy_count == 0;
    size_t count = all ? PD_STRATEGY_COUNT : options->strategy_count;
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
