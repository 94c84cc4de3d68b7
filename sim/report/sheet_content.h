/* The words and figures of a commissioning sheet, before they are laid out. */
#ifndef PUMPDAY_REPORT_SHEET_CONTENT_H
#define PUMPDAY_REPORT_SHEET_CONTENT_H

#include <pumpday/scenario.h>
#include <pumpday/sheet.h>

enum {
    SHEET_SETTINGS = 10,
    SHEET_STEPS = 10,
    SHEET_READINGS = 13,
    SHEET_LABEL_MOST = 64,
    SHEET_VALUE_MOST = 40,
    SHEET_STEP_MOST = 400
};

struct sheet_setting {
    char label[SHEET_LABEL_MOST];
    char value[SHEET_VALUE_MOST];
};

struct sheet_reading {
    char label[SHEET_LABEL_MOST];
    char value[PD_BENCHES_MOST][SHEET_VALUE_MOST];
};

struct sheet_content {
    const char *title;
    const char *strategy;
    size_t setting_count, step_count, column_count, reading_count;
    struct sheet_setting setting[SHEET_SETTINGS];
    char step[SHEET_STEPS][SHEET_STEP_MOST];
    char head[PD_BENCHES_MOST][SHEET_VALUE_MOST]; /* of the columns of expected readings */
    struct sheet_reading reading[SHEET_READINGS];
    char taps[SHEET_STEP_MOST]; /* what is meant by a tap and a trickle, and which column holds */
};

/* Fills it in the units of the sheet.  The scenario must outlive it. */
void sheet_content_fill(struct sheet_content *content, const struct pd_scenario *scenario,
                        const struct pd_sheet *sheet, enum pd_unit_system units);

/* Lays it out as a page that prints on one sheet of A4 or Letter, or as plain text. */
void sheet_write_html(FILE *stream, const struct sheet_content *content);
void sheet_write_text(FILE *stream, const struct sheet_content *content);

#endif
