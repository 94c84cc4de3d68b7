/* The words and figures of a commissioning sheet, before they are laid out. */
#ifndef PUMPDAY_PRESENT_SHEET_CONTENT_H
#define PUMPDAY_PRESENT_SHEET_CONTENT_H

#include <pumpday/scenario.h>
#include <pumpday/sheet.h>

enum {
    SHEET_REASONS = 32,
    SHEET_SETTINGS = 13,
    SHEET_STEPS = 16,
    SHEET_TESTS = 3,
    SHEET_OUTCOMES = 5,
    SHEET_READINGS = 14,
    SHEET_LABEL_MOST = 64,
    SHEET_VALUE_MOST = 40,
    SHEET_STEP_MOST = 720
};

struct sheet_setting {
    char label[SHEET_LABEL_MOST];
    char value[SHEET_VALUE_MOST];
};

struct sheet_reading {
    char label[SHEET_LABEL_MOST];
    char value[PD_BENCHES_MOST][SHEET_VALUE_MOST];
};

/* What the gauge does in a leak test, with the house valve open and then shut, and why. */
struct sheet_outcome {
    const char *open, *shut;
    char means[SHEET_STEP_MOST];
};

struct sheet_content {
    const char *title;
    const char *strategy;
    size_t reason_count, setting_count, step_count, column_count, reading_count;
    size_t power_on; /* the steps from this one on have the power on */
    size_t test_count, outcome_count;
    char reason[SHEET_REASONS][SHEET_STEP_MOST]; /* why not to put it into service */
    char judged[SHEET_STEP_MOST];                /* what was judged, and warned of */
    struct sheet_setting setting[SHEET_SETTINGS];
    char step[SHEET_STEPS][SHEET_STEP_MOST];
    char test[SHEET_TESTS][SHEET_STEP_MOST]; /* steps of the leak test */
    char why[SHEET_STEP_MOST];               /* why it takes so long */
    struct sheet_outcome outcome[SHEET_OUTCOMES];
    char head[PD_BENCHES_MOST][SHEET_VALUE_MOST]; /* of the columns of expected readings */
    struct sheet_reading reading[SHEET_READINGS];
    char taps[SHEET_STEP_MOST]; /* what is meant by a tap and a trickle, and which column holds */
};

/* The heads of its parts, alike in both layouts. */
#define SHEET_BOX "Do not put into service before this is put right"
#define SHEET_POWER_OFF "Order of work: power off"
#define SHEET_POWER_ON "Order of work: power on"
#define SHEET_NOT_YET " (only when the box is empty)"
#define SHEET_LEAK_TEST "Leak test: power off again"

/* Fills it in the units of the sheet.  The scenario must outlive it. */
void sheet_content_fill(struct sheet_content *content, const struct pd_scenario *scenario,
                        const struct pd_sheet *sheet, enum pd_unit_system units);

/* Lays it out as a page that prints on both sides of one sheet of A4 or Letter, or as plain text.
 */
void sheet_write_html(FILE *stream, const struct sheet_content *content);
void sheet_write_text(FILE *stream, const struct sheet_content *content);

#endif
