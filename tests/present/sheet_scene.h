/* What the tests of the commissioning sheet share: a small scenario, its sheet, and its layouts. */
#ifndef PUMPDAY_TESTS_SHEET_SCENE_H
#define PUMPDAY_TESTS_SHEET_SCENE_H

#include "output/text_file.h"
#include "present/sheet_content.h"

/* Of the last sheet made; the scenario is freed by sheet_scene_end. */
extern struct pd_scenario scene;
extern struct pd_sheet sheet;

/* Makes the sheet of the smallest scenario with some items set. */
void sheet_scene_make(const char *const *sets, size_t count, const char *strategy);

/* Makes the sheet of the scene as it stands. */
void sheet_scene_remake(const char *strategy);

void sheet_scene_end(void);

/* The sheet as written by one of the two layouts. */
const char *sheet_scene_written(void (*write)(FILE *stream, const struct sheet_content *content),
                                enum pd_unit_system units, char text[TEXT_MOST]);

/* True if a text has some words; shows both when it has not. */
bool sheet_scene_has(const char *text, const char *words);

#endif
