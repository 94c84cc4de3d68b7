#include "present/sheet_scene.h"

#include "scenario/folder.h"

#include <CUnit/CUnit.h>

struct pd_scenario scene;
struct pd_sheet sheet;

void sheet_scene_remake(const char *strategy)
{
    struct pd_sheet_options options = pd_sheet_default();
    struct pd_error error = {.code = PD_DONE};

    CU_ASSERT_TRUE_FATAL(
        pd_sheet_make(&scene, pd_strategy_find(strategy), &options, &sheet, &error));
}

void sheet_scene_make(const char *const *sets, size_t count, const char *strategy)
{
    static struct pd_faults faults;
    struct folder folder;

    faults.count = 0;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    bool good = pd_scenario_read(folder.path, sets, count, &scene, &faults);
    pd_faults_print(stdout, &faults);
    folder_remove(&folder);
    CU_ASSERT_TRUE_FATAL(good);
    sheet_scene_remake(strategy);
}

void sheet_scene_end(void)
{
    pd_scenario_free(&scene);
}

const char *sheet_scene_written(void (*write)(FILE *stream, const struct sheet_content *content),
                                enum pd_unit_system units, char text[TEXT_MOST])
{
    static struct sheet_content content;
    FILE *stream = tmpfile();

    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    sheet_content_fill(&content, &scene, &sheet, units);
    write(stream, &content);
    (void)stream_text(stream, text);
    (void)fclose(stream);
    return text;
}

bool sheet_scene_has(const char *text, const char *words)
{
    if (strstr(text, words) != NULL) {
        return true;
    }
    (void)printf("\n      no \"%s\" in\n%s", words, text);
    return false;
}
