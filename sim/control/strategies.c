/* The list of strategies. */
#include "control/settings.h"

#include <string.h>

#define STRATEGY(name) &strategy_##name,
const struct pd_strategy_kind *const pd_strategies[] = {
#include "control/list.h"
};
#undef STRATEGY

const size_t pd_strategy_count = sizeof pd_strategies / sizeof pd_strategies[0];

_Static_assert(sizeof pd_strategies / sizeof pd_strategies[0] <= PD_STRATEGIES_MOST,
               "every table and page has room for all strategies");

const char *pd_cause_name(enum pd_cause cause)
{
    static const char *const names[] = {
        [PD_CAUSE_PRESSURE] = "low pressure",
        [PD_CAUSE_FLOW] = "flow",
        [PD_CAUSE_CARRIED_OVER] = "ran at midnight",
        [PD_CAUSE_LOW_FLOW] = "low flow",
        [PD_CAUSE_STOP_PRESSURE] = "stop pressure",
        [PD_CAUSE_LOW_SUCTION] = "low suction",
        [PD_CAUSE_DRY] = "ran dry",
        [PD_CAUSE_END_OF_DAY] = "end of day",
    };
    _Static_assert(sizeof names / sizeof names[0] == PD_CAUSE_COUNT, "a name for each cause");
    return names[cause];
}

const struct pd_strategy_kind *pd_strategy_find(const char *name)
{
    for (size_t i = 0; i < pd_strategy_count; i++) {
        if (strcmp(pd_strategies[i]->name, name) == 0) {
            return pd_strategies[i];
        }
    }
    return NULL;
}
