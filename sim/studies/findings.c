/* Puts the findings about a strategy's day together, and a verdict out of them. */
#include "studies/findings.h"
#include "studies/verdict.h"

#include <pumpday/compare.h>

#include <math.h>
#include <string.h>

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

void pd_findings_judge(const struct pd_plant *plant, const struct pd_day_result *result,
                       struct pd_findings *findings)
{
    memset(findings, 0, sizeof *findings);
    findings_site(findings, plant);
    findings_day(findings, plant, result);
}

/* All the faults at once are longer than the text; a whole one is left out, never half of it. */
static void add_words(char text[PD_VERDICT_MOST], const char *words)
{
    size_t length = strlen(text);
    size_t gap = length > 0 ? 2 : 0;
    size_t more = strlen(words);

    if (length + gap + more < PD_VERDICT_MOST) {
        memcpy(text + length, "; ", gap);
        memcpy(text + length + gap, words, more + 1);
    }
}

bool pd_findings_verdict(const struct pd_findings *findings, const struct pd_day_result *result,
                         char text[PD_VERDICT_MOST])
{
    bool has[PD_FAULT_COUNT] = {false};

    text[0] = '\0';
    for (size_t i = 0; i < findings->count; i++) {
        const struct pd_finding *line = &findings->list[i];
        has[line->fault] = has[line->fault] || line->level == PD_LEVEL_FAIL;
    }
    for (int fault = 0; fault < PD_FAULT_COUNT; fault++) {
        if (has[fault]) {
            add_words(text, pd_fault_name((enum pd_fault)fault));
        }
    }
    if (findings->fails == 0) {
        // a pump that the supply makes needless is worth a word
        add_words(text, verdict_never_ran(result) ? "ok; pump not needed" : "ok");
    }
    return findings->fails == 0;
}

bool pd_verdict(const struct pd_day_result *result, const struct pd_plant *plant,
                char text[PD_VERDICT_MOST])
{
    struct pd_findings findings;

    pd_findings_judge(plant, result, &findings);
    return pd_findings_verdict(&findings, result, text);
}
