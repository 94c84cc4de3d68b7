/* Which scripts are run, and what is left in the folder; with scripts of the test's own. */
#include "output/plot.h"

#include "output/folder.h"
#include "output/text_file.h"

#include <CUnit/CUnit.h>

void suite_plot(void);

static char folder[FOLDER_MOST], scripts[FOLDER_MOST], other[FOLDER_MOST];

static void begin(void)
{
    folder_make(folder);
    folder_make(scripts);
    folder_make(other);
}

static void end(void)
{
    folder_remove(folder);
    folder_remove(scripts);
    folder_remove(other);
}

static void put(const char *place, const char *name, const char *content)
{
    char path[FOLDER_MOST];
    FILE *file = fopen(folder_path(place, name, path), "w");

    CU_ASSERT_PTR_NOT_NULL_FATAL(file);
    (void)fputs(content, file);
    (void)fclose(file);
}

static const char *held(const char *name, char text[TEXT_MOST])
{
    char path[FOLDER_MOST];

    return file_text(folder_path(folder, name, path), text);
}

/* One that has its file, one that lacks it, a part of others, and one for each of some files. */
static void scripts_that_fit_are_run(void)
{
    struct pd_pictures pictures;
    struct pd_error error = {.code = PD_DONE};
    char text[TEXT_MOST];

    put(folder, "a.csv", "x\n");
    put(folder, "few b's.csv", "x\n");
    put(folder, "few c.csv", "x\n");
    put(folder, "<few>command.csv", "x\n");
    put(scripts, "one.gp", "# needs: a.csv\nset print ARG1.'one.svg'\nprint kinds\n");
    put(scripts, "two.gp", "# needs: a.csv d.csv\nset print ARG1.'two.svg'\nprint 'no'\n");
    put(scripts, "part.gp", "set print ARG1.'part.svg'\nprint 'no'\n");
    put(scripts, "three.gp", "# each: *few*.csv\nset print ARG1.ARG2.'.png'\nprint ARG2\n");
    CU_ASSERT(pd_plot(folder, scripts, false, &pictures, &error));
    CU_ASSERT_EQUAL(pictures.count, 4);
    CU_ASSERT(same_text(held("one.svg", text), "svg png\n"));
    CU_ASSERT(same_text(held("few b's.csv.png", text), "./few b's.csv\n"));
    CU_ASSERT(same_text(held("few c.csv.png", text), "./few c.csv\n"));
    CU_ASSERT(same_text(held("<few>command.csv.png", text), "./<few>command.csv\n"));
    CU_ASSERT_EQUAL(folder_count(folder), 8);
    CU_ASSERT(pd_plot(folder, scripts, true, &pictures, &error));
    CU_ASSERT(same_text(held("one.svg", text), "svg\n"));
    CU_ASSERT_EQUAL(folder_count(folder), 8);
}

/* A script that fails after another has made its picture: no picture, and the earlier one stays. */
static void a_failure_changes_nothing(void)
{
    struct pd_pictures pictures;
    struct pd_error error = {.code = PD_DONE};
    char text[TEXT_MOST];

    put(folder, "a.csv", "x\n");
    put(folder, "one.svg", "earlier");
    put(scripts, "1.gp", "# needs: a.csv\nset print ARG1.'one.svg'\nprint 'new'\n");
    put(scripts, "2.gp", "# needs: a.csv\nset print ARG1.'two.svg'\nnonsense here\n");
    CU_ASSERT_FALSE(pd_plot(folder, scripts, false, &pictures, &error));
    CU_ASSERT_EQUAL(error.code, PD_OUTPUT_FAILED);
    CU_ASSERT_PTR_NOT_NULL(strstr(error.file, "2.gp"));
    CU_ASSERT_PTR_NOT_NULL(strstr(error.text, "gnuplot failed"));
    CU_ASSERT_FALSE(pictures.gnuplot_missing);
    CU_ASSERT(same_text(held("one.svg", text), "earlier"));
    CU_ASSERT_EQUAL(folder_count(folder), 2);
}

static void each_file_but_some_is_drawn(void)
{
    struct pd_pictures pictures;
    struct pd_error error = {.code = PD_DONE};

    put(folder, "a.csv", "x,y\n1,2\n");
    put(folder, "ab.csv", "x,y\n1,2\n");
    put(folder, "b.csv", "x,y\n1,2\n");
    put(scripts, "one.gp",
        "# each: *.csv\n# but: ab.csv c.csv\nset print ARG1.ARG2[3:*].'.svg'\nprint 1\n");
    CU_ASSERT(pd_plot(folder, scripts, true, &pictures, &error));
    CU_ASSERT_EQUAL(pictures.count, 2);
    CU_ASSERT_STRING_EQUAL(pictures.name[0], "a.csv.svg");
    CU_ASSERT_STRING_EQUAL(pictures.name[1], "b.csv.svg");
}

static void nothing_to_draw_is_told(void)
{
    struct pd_pictures pictures;
    struct pd_error error = {.code = PD_DONE};

    put(scripts, "one.gp", "# needs: a.csv\n");
    CU_ASSERT_FALSE(pd_plot(folder, scripts, false, &pictures, &error));
    CU_ASSERT_EQUAL(error.code, PD_BAD_INPUT);
    CU_ASSERT_EQUAL(folder_count(folder), 0);
    error.code = PD_DONE;
    CU_ASSERT_FALSE(pd_plot("/nowhere", scripts, false, &pictures, &error));
    CU_ASSERT_EQUAL(error.code, PD_BAD_INPUT);
}

/* A script finds the files of the others under names of its own; nothing is left in any folder, and
 * nothing is put into the others. */
static void others_stand_beside(void)
{
    struct pd_pictures pictures;
    struct pd_error error = {.code = PD_DONE};
    const char *const others[] = {other, folder};
    char text[TEXT_MOST];

    put(folder, "trace.csv", "x,y\n1,2\n");
    put(other, "trace.csv", "x,y\n1,7\n");
    put(scripts, "one.gp",
        "# needs: trace.csv\nset datafile separator comma\nset datafile columnheaders\n"
        "y = 0\ndo for [k = 1 : others] {\n"
        "stats sprintf('%s%d/trace.csv', ARG1, k) using 'y' nooutput\n"
        "y = 10 * y + STATS_max\n}\n"
        "set print ARG1.'one.svg'\nprint y\n");
    CU_ASSERT(pd_plot_beside(folder, others, 2, scripts, true, &pictures, &error));
    CU_ASSERT(same_text(held("one.svg", text), "72.0\n"));
    CU_ASSERT_EQUAL(folder_count(folder), 2);
    CU_ASSERT_EQUAL(folder_count(other), 1);
    // alone it has none beside it
    CU_ASSERT(pd_plot(folder, scripts, true, &pictures, &error));
    CU_ASSERT(same_text(held("one.svg", text), "0\n"));
}

static void others_have_the_same_columns(void)
{
    struct pd_pictures pictures;
    struct pd_error error = {.code = PD_DONE};
    const char *const others[] = {other};

    put(folder, "trace.csv", "p [kPa]\n1\n");
    put(scripts, "one.gp", "# needs: trace.csv\nset print ARG1.'one.svg'\nprint 1\n");
    CU_ASSERT_FALSE(pd_plot_beside(folder, others, 1, scripts, true, &pictures, &error));
    CU_ASSERT_EQUAL(error.code, PD_BAD_INPUT);
    CU_ASSERT_PTR_NOT_NULL(strstr(error.text, "trace.csv is not there"));
    put(other, "trace.csv", "p [psi]\n1\n");
    error.code = PD_DONE;
    CU_ASSERT_FALSE(pd_plot_beside(folder, others, 1, scripts, true, &pictures, &error));
    CU_ASSERT_EQUAL(error.code, PD_BAD_INPUT);
    CU_ASSERT_PTR_NOT_NULL(strstr(error.text, "--units"));
    CU_ASSERT_PTR_NOT_NULL(strstr(error.file, other));
    CU_ASSERT_EQUAL(folder_count(folder), 1);
}

void suite_plot(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("plot", NULL, NULL, begin, end);

    CU_ADD_TEST(suite, scripts_that_fit_are_run);
    CU_ADD_TEST(suite, a_failure_changes_nothing);
    CU_ADD_TEST(suite, each_file_but_some_is_drawn);
    CU_ADD_TEST(suite, nothing_to_draw_is_told);
    CU_ADD_TEST(suite, others_stand_beside);
    CU_ADD_TEST(suite, others_have_the_same_columns);
}
