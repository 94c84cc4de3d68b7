/* The box that opens a commissioning sheet: each finding that fails, in plain words. */
#include "present/sheet_parts.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

/* A line that fails at its very limit wants more than that. */
static const char *side(const struct pd_finding *line)
{
    bool beyond = line->decided && line->level == PD_LEVEL_FAIL && line->found == line->limit;

    if (line->sense == PD_SENSE_AT_MOST) {
        return beyond ? "under" : "at most";
    }
    return beyond ? "over" : "at least";
}

/* "6.10 bar", or the words; then the limit, if there is one. */
static void figures(char text[SHEET_STEP_MOST / 2], const struct filler *filler,
                    const struct pd_finding *line)
{
    char found[SHEET_VALUE_MOST], limit[SHEET_VALUE_MOST];

    if (line->words != NULL) {
        (void)snprintf(found, sizeof found, "%s", line->words);
    } else {
        sheet_amount(found, filler, line->kind, line->found);
    }
    if (line->sense == PD_SENSE_TELLS) {
        (void)snprintf(text, SHEET_STEP_MOST / 2, "%s", found);
    } else {
        (void)snprintf(text, SHEET_STEP_MOST / 2, "%s, should be %s %s", found, side(line),
                       sheet_amount(limit, filler, line->kind, line->limit));
    }
}

/* What fails or is warned of, without the name of an item behind it.  A comparison that is the
 * other way round than a line of a check has it is told as it is. */
static void plain_what(char text[SHEET_LABEL_MOST], const struct pd_finding *line)
{
    bool fails = line->level == PD_LEVEL_FAIL;
    const char *what = line->what;

    if (fails && line->fault == PD_FAULT_PRECHARGE) {
        what = "precharge not under the start pressure";
    } else if (fails && line->fault == PD_FAULT_START_TOO_HIGH) {
        what = "start pressure too near to the most that the pump gives";
    }
    size_t length = strcspn(what, "(");
    length -= what[length] == '(' && length > 0;
    (void)snprintf(text, SHEET_LABEL_MOST, "%.*s", (int)length, what);
}

/* A source that is an item of the scenario is no more than what was set there. */
static const char *plain_source(const struct pd_finding *line)
{
    bool is_item = pd_item_find(line->source) != PD_ITEM_COUNT;

    return is_item ? "as told for this house" : line->source;
}

static void fill_reason(char text[SHEET_STEP_MOST], const struct filler *filler,
                        const struct pd_finding *line)
{
    char found[SHEET_STEP_MOST / 2], what[SHEET_LABEL_MOST];
    const char *note = line->note != NULL ? line->note : "";

    figures(found, filler, line);
    plain_what(what, line);
    (void)snprintf(text, SHEET_STEP_MOST, "%s: %s (%s)%s%s.", what, found, plain_source(line),
                   *note != '\0' ? ": " : "", note);
    text[0] = (char)toupper((unsigned char)text[0]);
}

/* A warning that nothing is known of something is what the order of work tells anyway. */
static bool is_warned_of(const struct pd_finding *line)
{
    return line->level == PD_LEVEL_WARN && line->sense != PD_SENSE_TELLS;
}

static void fill_judged(struct filler *filler)
{
    const struct pd_findings *findings = &filler->sheet->findings;
    char *text = filler->content->judged, found[SHEET_STEP_MOST / 2], what[SHEET_LABEL_MOST];
    size_t length =
        findings->fails > 0
            ? 0
            : (size_t)snprintf(text, SHEET_STEP_MOST, "Judged before printing: nothing fails. ");
    const char *before = "Look at: ";

    for (size_t i = 0; i < findings->count && length < SHEET_STEP_MOST; i++) {
        const struct pd_finding *line = &findings->list[i];
        if (!is_warned_of(line)) {
            continue;
        }
        figures(found, filler, line);
        plain_what(what, line);
        length += (size_t)snprintf(text + length, SHEET_STEP_MOST - length, "%s%s (%s)", before,
                                   what, found);
        before = "; ";
    }
}

/* What can hurt somebody, or foul a main, comes first. */
static bool is_hazard(const struct pd_finding *line)
{
    static const enum pd_fault hazards[] = {PD_FAULT_TANK_RATING, PD_FAULT_OVER_PRESSURE,
                                            PD_FAULT_PRECHARGE, PD_FAULT_WEAK_MAIN,
                                            PD_FAULT_POOR_SUCTION};

    for (size_t i = 0; i < sizeof hazards / sizeof hazards[0]; i++) {
        if (line->fault == hazards[i]) {
            return true;
        }
    }
    return false;
}

static void add_reasons(struct filler *filler, bool hazards)
{
    struct sheet_content *content = filler->content;
    const struct pd_findings *findings = &filler->sheet->findings;

    for (size_t i = 0; i < findings->count; i++) {
        const struct pd_finding *line = &findings->list[i];
        if (line->level == PD_LEVEL_FAIL && is_hazard(line) == hazards &&
            content->reason_count < SHEET_REASONS) {
            fill_reason(content->reason[content->reason_count++], filler, line);
        }
    }
}

void sheet_fill_reasons(struct filler *filler)
{
    add_reasons(filler, true);
    add_reasons(filler, false);
    fill_judged(filler);
}
