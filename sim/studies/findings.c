/* Puts the findings about a strategy's day together, and a verdict out of them. */
#include "studies/findings.h"
#include "studies/verdict.h"

#include <pumpday/compare.h>

#include <math.h>
#include <string.h>

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
