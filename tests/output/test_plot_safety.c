/* What files and names say is drawn or passed over, never run: with the program's own scripts. */
#include "output/columns.h"
#include "output/plot.h"

#include "output/folder.h"
#include "output/text_file.h"

#include <CUnit/CUnit.h>
#include <sys/stat.h>

void suite_plot_safety(void);

static char folder[FOLDER_MOST];

static void begin(void)
{
    folder_make(folder);
}

static void end(void)
{
    folder_remove(folder);
}

static void put(const char *name, const char *content)
{
    char path[FOLDER_MOST];
    FILE *file = fopen(folder_path(folder, name, path), "w");

    CU_ASSERT_PTR_NOT_NULL_FATAL(file);
    (void)fputs(content, file);
    (void)fclose(file);
}

/* Draws the folder; gnuplot's own are the only files it may leave. */
static bool draws(size_t pictures)
{
    struct pd_pictures made;
    struct pd_error error = {.code = PD_DONE};
    int before = folder_count(folder);
    bool good = pd_plot(folder, "plots", true, &made, &error);

    if (good && made.count == pictures && folder_count(folder) == before + (int)pictures) {
        return true;
    }
    pd_error_print(stdout, &error);
    (void)printf("%zu pictures, %d files more\n", made.count, folder_count(folder) - before);
    return false;
}

/* True if a picture holds the words; it is longer than other texts. */
static bool holds(const char *name, const char *words)
{
    static char text[1 << 20];
    char path[FOLDER_MOST];
    FILE *stream = fopen(folder_path(folder, name, path), "r");

    if (stream == NULL) {
        return false;
    }
    text[fread(text, 1, sizeof text - 1, stream)] = '\0';
    (void)fclose(stream);
    return strstr(text, words) != NULL;
}

/* All that gnuplot, its macros, its formats or a shell would take for something else. */
static const char *const values[] = {
    "`touch ran`",
    "$(touch ran)",
    "'.system('touch ran').'",
    "\"\"; !touch ran",
    "@kinds",
    "x\\\"`touch ran`",
    "%s %n %d",
    "| touch ran",
    "< touch ran",
    "{/Symbol `touch ran`}",
    "$x",
    "x' . `touch ran` . '",
};
enum { VALUES = sizeof values / sizeof values[0] };

static void put_row(FILE *file, size_t i, const char *strategy, bool two)
{
    pd_csv_text(file, values[i]);
    if (two) {
        (void)fputc(',', file);
        pd_csv_text(file, values[(i + 1) % VALUES]);
    }
    (void)fprintf(file, ",%s,1,%zu,1,2,1,1,1,9,100,", strategy, i);
    pd_csv_text(file, values[i]);
    (void)fputs(",,15,5,100,", file);
    pd_csv_text(file, values[0]);
    (void)fputc('\n', file);
}

/* Two rows for each value, another value beside it where two are varied. */
static void put_sweep(const char *name, const char *item, const char *strategy, bool two)
{
    char path[FOLDER_MOST];
    FILE *file = fopen(folder_path(folder, name, path), "w");

    CU_ASSERT_PTR_NOT_NULL_FATAL(file);
    (void)fprintf(file,
                  "%s%s%s,strategy,starts,starts_in_worst_hour,run_time [h],energy [kWh],cost,"
                  "volume [m3],specific_energy [kWh/m3],shortest_run [s],lowest_tap_pressure "
                  "[kPa],verdict,reason,starts_limit,run_limit [s],tap_limit [kPa],title\n",
                  item, two ? "," : "", two ? item : "");
    for (size_t i = 0; i < VALUES; i++) {
        put_row(file, i, "peak-only", two);
        put_row(file, i, strategy, two);
    }
    (void)fclose(file);
}

static void values_of_sweeps_are_not_run(void)
{
    put_sweep("one.csv", "tank.gas", "flow-start", false);
    put_sweep("two.csv", "tank.gas", "flow-start", true);
    CU_ASSERT(draws(3));
    CU_ASSERT(holds("sweep-one.svg", ">`touch ran`<"));
    CU_ASSERT(holds("sweep-one.svg", ">@kinds<"));
    CU_ASSERT(holds("sweep-one.svg", ">%s %n %d<"));
    CU_ASSERT(holds("sweep-one.svg", ">`touch ran`: sweep one<"));
}

/* gnuplot cannot read a cell of two lines: that file alone is passed over. */
static void a_cell_of_two_lines_stops_nothing(void)
{
    put("one.csv", "tank.gas,strategy,reason\n\"new\n`touch ran`\",peak-only,\n");
    put_sweep("two.csv", "tank.gas", "flow-start", false);
    CU_ASSERT(draws(1));
    CU_ASSERT(holds("sweep-two.svg", "</svg>"));
}

/* A strategy is a part of a picture's name. */
static void heads_and_strategies_of_sweeps_are_not_run(void)
{
    static const char *const strategies[] = {
        "`touch ran`", "'.`touch ran`.'", "../../ran", "$(touch ran)", "a b", "@kinds"};

    for (size_t i = 0; i < sizeof strategies / sizeof strategies[0]; i++) {
        put_sweep("one.csv", "`touch ran` '; @kinds [$(touch ran)]", strategies[i], false);
        CU_ASSERT(draws(1));
        CU_ASSERT(holds("sweep-one.svg", "`touch ran` '; @kinds [$(touch ran)]"));
        folder_remove(folder);
        folder_make(folder);
    }
}

/* One that gnuplot takes for a block of data stops no other. */
static void names_of_files_are_only_names(void)
{
    static const char *const names[] = {
        "$x.csv",        "< touch ran.csv", "`touch ran`.csv", "it's $(touch ran).csv",
        "\"q\"\\n.csv",  "@kinds %s.csv",   "-.csv",           "+.csv",
        "new\nline.csv", "| touch ran.csv", "{a}_b.csv",       "plain.csv",
    };
    enum { COUNT = sizeof names / sizeof names[0] };
    char picture[FOLDER_MOST];

    for (size_t i = 0; i < COUNT; i++) {
        put_sweep(names[i], "tank.gas", "flow-start", false);
    }
    CU_ASSERT(draws(COUNT));
    for (size_t i = 0; i < COUNT; i++) {
        (void)snprintf(picture, sizeof picture, "sweep-%.*s.svg", (int)strlen(names[i]) - 4,
                       names[i]);
        CU_ASSERT(holds(picture, "</svg>"));
    }
}

/* The files of a comparison, their units and title odd. */
static void put_comparison(const char *unit, const char *title)
{
    char text[TEXT_MOST];

    (void)snprintf(text, sizeof text,
                   "strategy,start_pressure [%s],start_flow [%s],stop_flow [%s],stop_pressure "
                   "[%s],run_on [s],precharge [%s],tap_limit [%s],static_limit [%s],"
                   "starts_limit,water_asked [%s],title\npeak-only,300,,3,,7,200,100,550,15,9,%s\n",
                   unit, unit, unit, unit, unit, unit, unit, unit, title);
    put("settings.csv", text);
    (void)snprintf(text, sizeof text,
                   "strategy,run_time [h],energy [kWh],volume [%s],verdict\npeak-only,1,2,7,%s\n",
                   unit, title);
    put("summary.csv", text);
    put("hours.csv", "strategy,hour,starts\npeak-only,0,1\npeak-only,1,2\n");
    put("cycles.csv", "strategy,start [s],run_time [s]\npeak-only,10,20\n");
    (void)snprintf(text, sizeof text,
                   "strategy,time [s],header_pressure [%s],supply_pressure [%s],suction_pressure "
                   "[%s],tap_pressure [%s],pump_flow [%s],demand_flow [%s],tank_water [%s],speed,"
                   "power [W],pump,check_valve\npeak-only,0,300,200,200,300,0,0,2,0,3,0,0\n"
                   "peak-only,15,310,200,200,300,9,9,3,1,3,1,1\n"
                   "peak-only,40,320,200,200,300,0,0,3,0,3,0,0\n",
                   unit, unit, unit, unit, unit, unit, unit);
    put("trace.csv", text);
    put("zoom.csv", text);
}

static void heads_and_titles_of_a_comparison_are_not_run(void)
{
    static const char *const units[] = {"`touch ran`", "$(touch ran)", "@kinds", "';`touch ran`;'"};

    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        put_comparison(units[i], "`touch ran` $(touch ran) @kinds %d 'x' \\n");
        CU_ASSERT(draws(5));
        CU_ASSERT(holds("tank.svg", ">`touch ran` $(touch ran) @kinds %d 'x' \\n: "));
        CU_ASSERT(holds("tank.svg", "header pressure ["));
        folder_remove(folder);
        folder_make(folder);
    }
}

/* A title that a spreadsheet would run has an apostrophe before it: it is drawn without. */
static void a_guarded_title_is_drawn_as_it_is(void)
{
    put_comparison("kPa", "'=1+1");
    CU_ASSERT(draws(5));
    CU_ASSERT(holds("tank.svg", ">=1+1: "));
}

/* The lesson's charts have the same heads. */
static void heads_of_the_lesson_are_not_run(void)
{
    static const char *const names[] = {"lesson-precharge.csv", "lesson-tank-size.csv",
                                        "lesson-gas.csv"};

    for (size_t i = 0; i < 3; i++) {
        put(names[i],
            "tank.precharge [`touch ran`],tank.volume ['`touch "
            "ran`'],tank.gas,starts_in_worst_hour,"
            "shortest_run [s],lowest_tap_pressure ['.`touch ran`.'],start_pressure [kPa],drawdown "
            "[@kinds `touch ran`]\n10,8,thermal,1,2,3,100,5\n20,9,thermal,2,3,4,100,6\n");
    }
    CU_ASSERT(draws(3));
}

/* gnuplot would load it in place of the program's own. */
static void a_script_among_the_files_is_not_run(void)
{
    struct pd_pictures pictures;
    struct pd_error error = {.code = PD_DONE};

    put_comparison("kPa", "x");
    put("common.gp", "system('touch ran')\n");
    CU_ASSERT_FALSE(pd_plot(folder, "plots", true, &pictures, &error));
    CU_ASSERT_EQUAL(error.code, PD_BAD_INPUT);
    CU_ASSERT_PTR_NOT_NULL(strstr(error.text, "common.gp"));
    CU_ASSERT_EQUAL(folder_count(folder), 7);
}

/* Names of folders reach gnuplot too. */
static void names_of_folders_are_only_names(void)
{
    struct pd_pictures pictures;
    struct pd_error error = {.code = PD_DONE};
    char odd[FOLDER_MOST];
    char here[PD_PATH_MOST];
    char plots[PD_PATH_MOST + 8];

    (void)folder_path(folder, "`touch ran` $(x) 'q' \"d\" @k %s", odd);
    CU_ASSERT_PTR_NOT_NULL_FATAL(getcwd(here, sizeof here));
    (void)snprintf(plots, sizeof plots, "%s/plots", here);
    CU_ASSERT_EQUAL_FATAL(symlink(plots, odd), 0);
    put_comparison("kPa", "x");
    CU_ASSERT(pd_plot(folder, odd, true, &pictures, &error));
    CU_ASSERT_EQUAL(pictures.count, 5);
    CU_ASSERT_FALSE(pd_plot(folder, "/tmp/a:b", true, &pictures, &error));
    CU_ASSERT_PTR_NOT_NULL(strstr(error.text, "colon"));
    CU_ASSERT_EQUAL(folder_count(folder), 6 + 1 + 5);
}

void suite_plot_safety(void)
{
    CU_pSuite suite = CU_add_suite_with_setup_and_teardown("plot_safety", NULL, NULL, begin, end);

    CU_ADD_TEST(suite, values_of_sweeps_are_not_run);
    CU_ADD_TEST(suite, a_cell_of_two_lines_stops_nothing);
    CU_ADD_TEST(suite, heads_and_strategies_of_sweeps_are_not_run);
    CU_ADD_TEST(suite, names_of_files_are_only_names);
    CU_ADD_TEST(suite, heads_and_titles_of_a_comparison_are_not_run);
    CU_ADD_TEST(suite, a_guarded_title_is_drawn_as_it_is);
    CU_ADD_TEST(suite, heads_of_the_lesson_are_not_run);
    CU_ADD_TEST(suite, a_script_among_the_files_is_not_run);
    CU_ADD_TEST(suite, names_of_folders_are_only_names);
}
