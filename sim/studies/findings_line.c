/* One line more in a list of findings, and the names of what fails. */
#include "studies/findings.h"

#include <math.h>

const char *pd_fault_name(enum pd_fault fault)
{
    static const char *const names[] = {
        [PD_FAULT_NONE] = "",
        [PD_FAULT_CHATTERS] = "chatters",
        [PD_FAULT_SHORT_CYCLING] = "short-cycling",
        [PD_FAULT_OVER_PRESSURE] = "over-pressure",
        [PD_FAULT_TANK_RATING] = "over the tank's rating",
        [PD_FAULT_PRECHARGE] = "precharge too high",
        [PD_FAULT_START_TOO_HIGH] = "start too high",
        [PD_FAULT_NEVER_STARTS] = "never starts",
        [PD_FAULT_NEVER_STOPS] = "never stops",
        [PD_FAULT_MOVES_NO_WATER] = "moves no water",
        [PD_FAULT_RUNS_DRY] = "runs dry",
        [PD_FAULT_LOCKED_OUT] = "locked out",
        [PD_FAULT_SUCTION_TRIPS] = "suction trips",
        [PD_FAULT_POOR_SUCTION] = "poor suction",
        [PD_FAULT_WEAK_MAIN] = "weak main",
        [PD_FAULT_LOW_TAPS] = "low taps",
        [PD_FAULT_SHORT_RESTS] = "short rests",
        [PD_FAULT_FAST_SUCTION] = "fast suction",
        [PD_FAULT_OFF_CURVE] = "off the curve",
    };
    _Static_assert(sizeof names / sizeof names[0] == PD_FAULT_COUNT, "a name for each fault");

    return names[fault];
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
    // a limit that nobody sets is none
    if (judged && isinf(line->limit)) {
        added->sense = PD_SENSE_TELLS;
    }
    // what is known in words alone has nothing to be measured by
    if (judged && isfinite(line->found) && holds(line)) {
        added->level = PD_LEVEL_OK;
        added->note = NULL;
    }
    findings->fails += added->level == PD_LEVEL_FAIL;
    findings->warnings += added->level == PD_LEVEL_WARN;
}
