/* Bad input: each fault is told once, at its file, line and item, in words that help. */
#include "scenario/folder.h"

#include <pumpday/scenario.h>

#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

void suite_bad_input(void);

#define HEADS "item,value,unit,note\n"
#define SITE                                                                                       \
    HEADS "supply.kind,main,,\nsupply.pressure,2,bar,\nservice.length,20,m,\n"                     \
          "service.diameter,25,mm,\ntank.volume,24,L,\n"
#define CISTERN                                                                                    \
    HEADS "supply.kind,cistern,,\nsupply.level,2,m,\nservice.length,20,m,\n"                       \
          "service.diameter,25,mm,\ntank.volume,24,L,\n"
#define WELL                                                                                       \
    HEADS "supply.kind,well,,\nsupply.level,2,m,\nservice.length,20,m,\n"                          \
          "service.diameter,25,mm,\ntank.volume,24,L,\n"
#define PUMP "flow [L/min],head [m],power [W]\n"
#define DEMAND "time,flow [L/min],duration [s],volume [L],fixture\n"

/* One file put in place of a good one, and the first fault it must bring. */
struct bad {
    const char *file;
    const char *text;
    int line;
    const char *item;
    const char *piece;
    size_t faults; /* all that are told; 0 means 1 */
};

static const struct bad site_rows[] = {
    {"site.csv", SITE "tank.colour,3,L,\n", 7, "tank.colour", "unknown item", 0},
    {"site.csv", SITE "tank.precharg,3,bar,\n", 7, "tank.precharg", "perhaps tank.precharge", 0},
    {"site.csv", SITE "house.leak,3,,\n", 7, "house.leak", "no unit, expected one of gpm", 0},
    {"site.csv", SITE "house.leak,0,,\n", 7, "house.leak", "no unit", 0},
    {"site.csv", SITE "house.leak,3,bar,\n", 7, "house.leak",
     "the wrong kind of unit, got \"bar\", expected a unit of flow", 0},
    {"site.csv", SITE "house.leak,3,cups,\n", 7, "house.leak", "unknown unit, got \"cups\"", 0},
    {"site.csv", SITE "guard.low_suction,1,mPa,\n", 7, "guard.low_suction", "unknown unit", 0},
    {"site.csv", SITE "house.leak,much,L/h,\n", 7, "house.leak", "not a number, got \"much\"", 0},
    {"site.csv", SITE "house.leak,nan,L/h,\n", 7, "house.leak", "not a finite number", 0},
    {"site.csv", SITE "house.leak,-inf,L/h,\n", 7, "house.leak", "not a finite number", 0},
    {"site.csv", SITE "house.leak,1e999,L/h,\n", 7, "house.leak", "not a finite number", 0},
    {"site.csv", SITE "house.leak,0x10,L/h,\n", 7, "house.leak", "not a number", 0},
    {"site.csv", SITE "house.leak,,L/h,\n", 7, "house.leak", "no value", 0},
    {"site.csv", SITE "house.leak,-1,L/h,\n", 7, "house.leak", "out of range, got \"-1 L/h\"", 0},
    {"site.csv", SITE "water.temperature,150,degF,\n", 7, "water.temperature",
     "out of range, got \"150 degF\", expected 1 to 60 degC", 0},
    {"site.csv", SITE "pump.poles,2,m,\n", 7, "pump.poles", "a unit with a pure number", 0},
    {"site.csv", SITE "pump.poles,3,,\n", 7, "pump.poles", "expected 2, 4 or 6 poles", 0},
    {"site.csv", SITE "limit.starts_per_hour,12,1/day,\n", 7, "limit.starts_per_hour",
     "the wrong unit, got \"1/day\", expected 1/h", 0},
    {"site.csv", SITE "tank.gas,steam,,\n", 7, "tank.gas",
     "none of the choices, got \"steam\", expected isothermal|polytropic|thermal", 0},
    {"site.csv", SITE "pump.phases,two,,\n", 7, "pump.phases", "expected single|polyphase", 0},
    {"site.csv", SITE "tank.sizes,24 18 50,L,\n", 7, "tank.sizes", "not rising", 0},
    {"site.csv", SITE "tank.sizes,24 50,,\n", 7, "tank.sizes", "no unit", 0},
    {"site.csv", SITE "tank.sizes,24 x 50,L,\n", 7, "tank.sizes", "not a number, got \"x\"", 0},
    {"site.csv", SITE "tank.sizes,24 50 bar,,\n", 7, "tank.sizes", "the wrong kind of unit", 0},
    {"site.csv", SITE "tank.sizes,0 24,L,\n", 7, "tank.sizes", "out of range", 0},
    {"site.csv",
     SITE "tank.sizes,1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20 21 22 23 24 25,L,\n", 7,
     "tank.sizes", "too many sizes", 0},
    {"site.csv", SITE "tank.gas,thermal,L,\n", 7, "tank.gas", "a unit with words", 0},
    {"site.csv", SITE "tank.volume,24,L,\n", 7, "tank.volume", "given twice, first on line 6", 0},
    {"site.csv", SITE ",24,L,\n", 7, "item", "no name of an item", 0},
    {"site.csv", SITE "house.leak,7,5,L/h\n", 7, "house.leak", "use decimal points", 0},
    {"site.csv", SITE "house.leak,\"7,5\",L/h,\n", 7, "house.leak",
     "a decimal comma, got \"7,5\", expected a decimal point", 0},
    {"site.csv", SITE "house.leak,\"7,5\",L/h,\nhouse.loss_flow,\"7,5\",L/h\nhouse.loss,\"1,\",Pa",
     7, "house.leak", "a decimal comma", 2},
    {"site.csv", SITE "house.leak,7,L/h,a,b\n", 7, NULL, "a cell without a column head", 0},
    {"site.csv", SITE "house.leak,7,L/h,3/4\" pipe\n", 7, NULL, "a quote stands inside a cell", 0},
    {"site.csv", SITE "title,\"a\nb\",,\n", 7, "title", "a control byte, got \"a?b\"", 0},
    {"site.csv", SITE "house.loss,7,kPa,\n", 0, "house.loss_flow",
     "house.loss and house.loss_flow together", 0},
    {"site.csv", SITE "house.loss_flow,7,L/s,\n", 0, "house.loss", "together", 0},
    {"site.csv", SITE "pressure_start.start,3,bar,\npressure_start.stop_pressure,290,kPa,\n", 8,
     "pressure_start.stop_pressure", "not above the start pressure, got 2.9 bar", 0},
    {"site.csv", SITE "peak_only.start,3,bar,\npeak_only.stop_pressure,3,bar,\n", 8,
     "peak_only.stop_pressure", "not above the start pressure", 0},
    {"site.csv", SITE "day.warm_up,25,h,\n", 7, "day.warm_up", "expected 0 to 24 h", 0},
    {"site.csv", SITE "supply.level,2,m,\n", 7, "supply.level", "a main has no level", 0},
    {"site.csv", SITE "supply.offset,-1,bar,\n", 7, "supply.offset", "no use without supply.csv",
     0},
    {"site.csv", SITE "supply.area,2,m2,\n", 7, "supply.area", "only for a cistern", 0},
    {"site.csv", SITE "well.casing_diameter,110,mm,\n", 7, "well.casing_diameter",
     "only for a well", 0},
    {"site.csv", SITE "well.loss,2,m,\n", 7, "well.loss", "only for a well", 0},
    {"site.csv", WELL "supply.specific_capacity,9,L/min/m,\nsupply.empty_level,1,m,\n", 8,
     "supply.empty_level", "a well with well.casing_diameter", 0},
    {"site.csv", WELL "supply.specific_capacity,9,L/min/m,\nsupply.area,1,m2,\n", 8, "supply.area",
     "expected well.casing_diameter", 0},
    {"site.csv", SITE "pump.height,-311,m,\n", 7, "pump.height", "out of range", 0},
    {"site.csv", SITE "rising_main.length,-1,m,\n", 7, "rising_main.length", "out of range", 0},
    {"site.csv", SITE "supply.empty_level,2,m,\n", 7, "supply.empty_level", "only for a cistern",
     0},
    {"site.csv", SITE "supply.refill,2,L/s,\n", 7, "supply.refill", "no use without supply.area",
     0},
    {"site.csv", SITE "supply.specific_capacity,2,L/s/m,\n", 7, "supply.specific_capacity",
     "only for a well", 0},
    {"site.csv", CISTERN "supply.pressure,2,bar,\n", 7, "supply.pressure", "no pressure of its own",
     0},
    {"site.csv", CISTERN "supply.empty_level,2,m,\n", 7, "supply.empty_level", "empty all day", 0},
    {"site.csv", WELL, 0, "supply.specific_capacity", "missing, expected it for a well", 0},
    {"site.csv", HEADS "tank.volume,24,L,\n", 0, "supply.kind", "missing", 3},
    {"site.csv",
     HEADS "supply.kind,main,,\ntank.volume,24,L\nservice.length,2,m\nservice.diameter,2,cm\n", 0,
     "supply.pressure", "missing, expected this item in site.csv or a file supply.csv", 0},
    {"site.csv", HEADS, 0, NULL, "no rows below the column heads", 0},
    {"site.csv", "", 0, NULL, "the file is empty", 0},
    {"site.csv", "\n# only a comment\n\n", 0, NULL, "the file is empty", 0},
    {"site.csv", "item;value;unit;note\ntank.volume;7,5;L;\n", 1, NULL,
     "columns are split by semicolons, expected commas", 0},
    {"site.csv", "item\tvalue\tunit\tnote\ntank.volume\t7\tL\t\n", 1, NULL,
     "columns are split by tabs", 0},
    {"site.csv", "item,value,note\ntank.volume,7,\n", 1, "unit", "this column is missing", 0},
    {"site.csv", "item,value,unit,colour\ntank.volume,7,L,red\n", 1, "colour",
     "unknown column, got \"colour\", expected item, value, unit, note", 0},
    {"site.csv", "item,value,unit,unit\ntank.volume,7,L,L\n", 1, "unit", "stands twice", 0},
    {"site.csv", "item,value [L],unit\ntank.volume,7,L\n", 1, "value",
     "a unit in the head of a column of text", 0},
    {"site.csv", "\xFF\xFEi\0t\0", 0, NULL, "the file is UTF-16 text", 0},
    // nothing else is told about what the open quote has swallowed
    {"site.csv", SITE "title,\"open,,\nhouse.leak,3,L/h\n", 7, NULL,
     "a quoted cell is left open to the end of the file", 0},
    // lines are counted through blanks, comments, and cells that span lines
    {"site.csv", "\n# c\n\n" HEADS "title,t,,\"a\nb\n\nc\"\r\n\r\n#\nhouse.leak,x,L,\n", 11,
     "house.leak", "not a number", 5},
    {"site.csv", "\xEF\xBB\xBFitem,value,unit\r\rhouse.leak,x,L\r", 3, "house.leak", "not a number",
     5},
};

static const struct bad pump_rows[] = {
    {"pump.csv", "", 0, NULL, "the file is empty", 0},
    {"pump.csv", PUMP "0,38,450\n40,33,650\n", 0, NULL, "too few points, got 2", 0},
    {"pump.csv", PUMP "1,38,450\n40,33,650\n80,18,760\n", 2, "flow", "the first flow is not 0", 0},
    {"pump.csv", PUMP "0,38,450\n40,33,650\n40,18,760\n", 4, "flow",
     "the flow does not rise, got 40 L/min after 40 L/min", 0},
    {"pump.csv", PUMP "0,38,450\n40,39,650\n80,18,760\n", 3, "head",
     "the head rises with the flow, got 39 m after 38 m", 0},
    {"pump.csv", PUMP "0,0,450\n40,0,650\n80,0,760\n", 2, "head", "no head at no flow", 0},
    // 40 L/min at 33 m of water are 215.7 W
    {"pump.csv", PUMP "0,38,450\n40,33,215\n80,18,760\n", 3, "power",
     "an efficiency over 100 %, got 215 W, expected more than the 215.7", 0},
    {"pump.csv", PUMP "0,38,450\n40,-3,650\n80,18,760\n", 3, "head", "out of range", 0},
    {"pump.csv", PUMP "0,38,450\n40,33\n80,18,760\n", 3, "power", "no value", 0},
    {"pump.csv", "flow,head [m],power [W]\n0,38,450\n", 1, "flow",
     "no unit in the column head, expected flow [L/min]", 0},
    {"pump.csv", "flow [],head [m],power [W]\n0,38,450\n", 1, "flow", "no unit", 0},
    {"pump.csv", "flow [m],head [m],power [W]\n0,38,450\n", 1, "flow", "the wrong kind of unit", 0},
    {"pump.csv", "flow [x],head [m],power [W]\n0,38,450\n", 1, "flow", "unknown unit, got \"x\"",
     0},
    {"pump.csv", "flow [gpm,head [m],power [W]\n0,38,450\n", 1, "flow [gpm",
     "malformed column head", 0},
    {"pump.csv", "flow [gpm] x,head [m],power [W]\n0,38,450\n", 1, "flow [gpm] x",
     "malformed column head", 0},
    {"pump.csv", "flow [gpm],head [m]\n0,38\n", 1, "power",
     "this column is missing, expected power [W]", 0},
    {"pump.csv", "flow [gpm],head [m],power [W],npsh_required [m]\n0,38,450,1\n9,30,450,\n9,8,7,1",
     3, "npsh_required", "no value", 0},
    {"pump.csv", PUMP "x,y,z\n", 2, "flow", "not a number", 3},
};

static const struct bad demand_rows[] = {
    {"demand.csv", "", 0, NULL, "the file is empty", 0},
    {"demand.csv", DEMAND, 0, NULL, "no rows below the column heads", 0},
    {"demand.csv", DEMAND "06:30,8,60,6,tap\n", 2, "duration",
     "got both a duration and a volume, expected either", 0},
    {"demand.csv", DEMAND "06:30,8,,,tap\n", 2, "duration", "got neither a duration nor a volume",
     0},
    {"demand.csv", DEMAND "06:30,8,60,,tap\n06:29,8,60,,\n", 3, "time",
     "out of order, got \"06:29\" after \"06:30\"", 0},
    {"demand.csv", DEMAND "24:00,8,60,,tap\n", 2, "time", "expected a time before 24:00", 0},
    {"demand.csv", DEMAND "25:00,8,60,,tap\n", 2, "time", "not a time of day, got \"25:00\"", 0},
    {"demand.csv", DEMAND "6.30,8,60,,tap\n", 2, "time", "expected HH:MM or HH:MM:SS", 0},
    {"demand.csv", DEMAND "06:30,0,60,,tap\n", 2, "flow", "out of range, got \"0\"", 0},
    {"demand.csv", DEMAND "06:30,-8,60,,tap\n", 2, "flow", "out of range", 0},
    {"demand.csv", DEMAND "06:30,8,0,,tap\n", 2, "duration", "out of range", 0},
    {"demand.csv", DEMAND "06:30,8,,0,tap\n", 2, "volume", "out of range, got \"0\"", 0},
    {"demand.csv", DEMAND "06:30,8,,-0.005,tap\n", 2, "volume", "out of range", 0},
    {"demand.csv", DEMAND "06:30,8,,-6,tap\n", 2, "volume", "out of range", 0},
    {"demand.csv", DEMAND "06:30,8,90000,,tap\n", 2, "duration", "out of range", 0},
    {"demand.csv", DEMAND "06:30,8,60,,a fixture with a name that never seems to end\n", 2,
     "fixture", "the text is too long", 0},
    {"demand.csv", "time [h],flow [gpm],duration [min]\n6.5,2,1\n6.4,2,1\n", 3, "time",
     "out of order", 0},
    {"profile.csv", "time,flow [L/min]\n00:00,3\n06:00,4\n06:00,5\n", 4, "time",
     "out of order, got \"06:00\" after \"06:00\", expected rising times", 0},
    {"profile.csv", "time,flow [L/min]\n00:00,-3\n", 2, "flow", "out of range", 0},
    {"profile.csv", "time,flow [L/min]\n", 0, NULL, "no rows", 0},
    {"profile.csv", "time,flow\n00:00,3\n", 1, "flow", "no unit in the column head", 0},
    {"profile.csv", "time,flow [L/min],fixture\n00:00,3,tap\n", 1, "fixture", "unknown column", 0},
};

static const struct bad supply_rows[] = {
    {"supply.csv", "time,pressure [bar]\n00:00,3\n", 3, "supply.pressure",
     "given here and by supply.csv too", 0},
    {"supply.csv", "time,level [m]\n00:00,3\n", 0, NULL,
     "got levels, expected pressures for a main", 2},
    {"supply.csv", "time,pressure [bar],level [m]\n00:00,3,1\n", 1, "pressure",
     "got both pressures and levels", 0},
    {"supply.csv", "time\n00:00\n", 1, "pressure", "got neither pressures nor levels", 0},
    {"supply.csv", "time,pressure [bar]\n00:00,99\n", 2, "pressure", "out of range, got \"99\"", 0},
    {"supply.csv", "time,pressure [bar]\n00:00,2\n24:00,2\n24:00,3", 4, "time", "out of order", 0},
    {"supply.csv", "time,pressure [L]\n00:00,2\n", 1, "pressure", "the wrong kind of unit", 0},
};

static bool ends_with(const char *text, const char *end)
{
    size_t length = strlen(text);
    size_t wanted = strlen(end);
    return length >= wanted && strcmp(text + length - wanted, end) == 0;
}

// the first fault that stands in the file and names the text wanted
static const struct pd_error *find_fault(const struct pd_faults *faults, const struct bad *bad)
{
    for (size_t i = 0; i < faults->count && i < PD_FAULTS_MOST; i++) {
        if (strstr(faults->list[i].text, bad->piece) != NULL) {
            return &faults->list[i];
        }
    }
    return NULL;
}

// tells which row of the table went wrong: CUnit cannot
static void expect(bool good, const struct bad *bad, const struct pd_faults *faults)
{
    CU_ASSERT(good);
    if (!good) {
        printf("\n  wanted %s:%d: %s: %s\n", bad->file, bad->line, bad->item ? bad->item : "",
               bad->piece);
        pd_faults_print(stdout, faults);
    }
}

static bool owns_nothing(const struct pd_scenario *scenario)
{
    return scenario->draws == NULL && scenario->profile == NULL && scenario->supply == NULL &&
           scenario->draw_count == 0 && scenario->folder[0] == '\0';
}

static void check_row(const struct folder *folder, const struct bad *bad)
{
    static struct pd_scenario scenario;
    static struct pd_faults faults;
    faults.count = 0;
    CU_ASSERT_FALSE(pd_scenario_read(folder->path, NULL, 0, &scenario, &faults));
    const struct pd_error *fault = find_fault(&faults, bad);
    const char *item = bad->item != NULL ? bad->item : "";
    // a fault of supply.csv's meaning may stand in site.csv
    bool site = strncmp(item, "supply.", 7) == 0;
    expect(fault != NULL && fault->line == bad->line && strcmp(fault->item, item) == 0 &&
               ends_with(fault->file, site ? "/site.csv" : bad->file) &&
               fault->code == PD_BAD_INPUT,
           bad, &faults);
    expect(faults.count == (bad->faults > 0 ? bad->faults : 1), bad, &faults);
    CU_ASSERT(owns_nothing(&scenario));
}

static void check_rows(const struct bad *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        struct folder folder;
        if (!folder_make(&folder)) {
            return;
        }
        folder_fill(&folder);
        folder_write_text(&folder, rows[i].file, rows[i].text);
        check_row(&folder, &rows[i]);
        folder_remove(&folder);
    }
}

static void test_site(void)
{
    check_rows(site_rows, sizeof site_rows / sizeof site_rows[0]);
}

static void test_pump(void)
{
    check_rows(pump_rows, sizeof pump_rows / sizeof pump_rows[0]);
}

static void test_demand(void)
{
    check_rows(demand_rows, sizeof demand_rows / sizeof demand_rows[0]);
}

static void test_supply(void)
{
    check_rows(supply_rows, sizeof supply_rows / sizeof supply_rows[0]);
}

/* A scenario in which one file is written or removed by hand. */
static void check_by_hand(const struct folder *folder, const char *file, int line,
                          const char *piece)
{
    struct bad bad = {file, NULL, line, NULL, piece, 0};
    check_row(folder, &bad);
    folder_remove(folder);
}

static void remove_file(const struct folder *folder, const char *name)
{
    char path[128];
    (void)snprintf(path, sizeof path, "%s/%s", folder->path, name);
    CU_ASSERT_EQUAL(unlink(path), 0);
}

static void test_missing_files(void)
{
    static const char *const names[] = {"site.csv", "pump.csv", "demand.csv"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        struct folder folder;
        CU_ASSERT_TRUE_FATAL(folder_make(&folder));
        folder_fill(&folder);
        remove_file(&folder, names[i]);
        check_by_hand(&folder, names[i], 0, "there is no such file");
    }
}

static void test_folder_in_place_of_a_file(void)
{
    char path[128];
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    (void)snprintf(path, sizeof path, "%s/supply.csv", folder.path);
    CU_ASSERT_EQUAL(mkdir(path, 0700), 0);
    check_by_hand(&folder, "supply.csv", 0, "is a folder, expected a CSV file");
}

static void test_pipe_in_place_of_a_file(void)
{
    char path[128];
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    (void)snprintf(path, sizeof path, "%s/supply.csv", folder.path);
    // to open it would wait for a writer for ever
    CU_ASSERT_EQUAL(mkfifo(path, 0600), 0);
    check_by_hand(&folder, "supply.csv", 0, "is not a plain file");
}

// true if reading this path as a scenario brings one fault with the piece in it
static bool one_fault(const char *path, const char *piece)
{
    static struct pd_scenario scenario;
    static struct pd_faults faults;
    faults.count = 0;
    return !pd_scenario_read(path, NULL, 0, &scenario, &faults) && owns_nothing(&scenario) &&
           faults.count == 1 && strstr(faults.list[0].text, piece) != NULL;
}

static void test_folder_itself(void)
{
    char path[3 * PD_PATH_MOST];
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    (void)snprintf(path, sizeof path, "%s/site.csv", folder.path);
    CU_ASSERT_TRUE(one_fault(path, "is no folder"));
    (void)snprintf(path, sizeof path, "%s/nowhere", folder.path);
    CU_ASSERT_TRUE(one_fault(path, "there is no such folder"));
    CU_ASSERT_TRUE(one_fault("", "there is no such folder"));
    memset(path, 'a', sizeof path - 1);
    path[sizeof path - 1] = '\0';
    CU_ASSERT_TRUE(one_fault(path, "the path of the folder is too long"));
    folder_remove(&folder);
}

static void test_zero_byte(void)
{
    static const char bytes[] = SITE "title,a\0b,,\n";
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    folder_write(&folder, "site.csv", bytes, sizeof bytes - 1);
    check_by_hand(&folder, "site.csv", 7, "a zero byte");
}

/* A file of `count` times `piece` behind `begin`, in place of `name`. */
static void write_many(const struct folder *folder, const char *name, const char *begin,
                       const char *piece, size_t count)
{
    char path[128];
    (void)snprintf(path, sizeof path, "%s/%s", folder->path, name);
    FILE *file = fopen(path, "wb");
    CU_ASSERT_PTR_NOT_NULL_FATAL(file);
    if (file == NULL) {
        return;
    }
    (void)fputs(begin, file);
    for (size_t i = 0; i < count; i++) {
        (void)fputs(piece, file);
    }
    CU_ASSERT_EQUAL(fclose(file), 0);
}

static void test_too_much(void)
{
    static const struct {
        const char *file, *begin, *piece;
        size_t count;
        int line;
        const char *text;
    } rows[] = {
        {"site.csv", SITE "title,", "a", 1001, 7, "a cell is too long, got 1001 bytes"},
        {"site.csv", SITE "title,", ",", 100, 7, "too many cells in a row"},
        {"pump.csv", PUMP, "0,0,0\n", 65, 66, "too many rows, expected at most 64"},
        {"profile.csv", "time,flow [gpm]\n", "1:00,1\n", 4097, 4098, "too many rows"},
        {"site.csv", SITE, "# a comment\n", 400000, 0, "the file is too long"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        static struct pd_scenario scenario;
        static struct pd_faults faults;
        struct folder folder;
        struct bad bad = {rows[i].file, NULL, rows[i].line, NULL, rows[i].text, 0};
        CU_ASSERT_TRUE_FATAL(folder_make(&folder));
        folder_fill(&folder);
        write_many(&folder, rows[i].file, rows[i].begin, rows[i].piece, rows[i].count);
        faults.count = 0;
        CU_ASSERT_FALSE(pd_scenario_read(folder.path, NULL, 0, &scenario, &faults));
        const struct pd_error *fault = find_fault(&faults, &bad);
        expect(fault != NULL && fault->line == rows[i].line, &bad, &faults);
        folder_remove(&folder);
    }
}

static void test_more_faults_than_are_kept(void)
{
    static struct pd_scenario scenario;
    static struct pd_faults faults;
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_fill(&folder);
    write_many(&folder, "site.csv", SITE, "x,y,z,\n", 900);
    faults.count = 0;
    CU_ASSERT_FALSE(pd_scenario_read(folder.path, NULL, 0, &scenario, &faults));
    CU_ASSERT_EQUAL(faults.count, 900);
    folder_remove(&folder);
}

static void test_faults_of_all_files_at_once(void)
{
    static struct pd_scenario scenario;
    static struct pd_faults faults;
    const char *const overrides[] = {"pump.poles=5"};
    struct folder folder;
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_write_text(&folder, "site.csv", SITE "house.leak,x,L/h,\ntank.gas,y,,\n");
    folder_write_text(&folder, "pump.csv", PUMP "0,38,450\n40,39,650\n80,18,76\n");
    folder_write_text(&folder, "demand.csv", DEMAND "06:30,x,y,,\n");
    faults.count = 0;
    CU_ASSERT_FALSE(pd_scenario_read(folder.path, overrides, 1, &scenario, &faults));
    CU_ASSERT_EQUAL(faults.count, 7);
    CU_ASSERT_EQUAL(faults.list[0].line, 7);
    CU_ASSERT_EQUAL(faults.list[1].line, 8);
    CU_ASSERT_STRING_EQUAL(faults.list[2].item, "head");
    CU_ASSERT_STRING_EQUAL(faults.list[3].item, "power");
    CU_ASSERT_STRING_EQUAL(faults.list[4].item, "flow");
    CU_ASSERT_STRING_EQUAL(faults.list[5].item, "duration");
    CU_ASSERT_STRING_EQUAL(faults.list[6].item, "pump.poles");
    CU_ASSERT_STRING_EQUAL(faults.list[6].file, "");
    folder_remove(&folder);
}

static void test_overrides(void)
{
    static const struct {
        const char *override, *item, *piece;
    } rows[] = {
        {"tank.volume", "", "malformed override, got \"tank.volume\", expected ITEM=VALUE"},
        {"=3", "", "unknown item"},
        {"tank.volum=3 L", "tank.volum", "perhaps tank.volume"},
        {"tank.volume=80", "tank.volume", "no unit"},
        {"tank.volume=80 psi", "tank.volume", "the wrong kind of unit"},
        {"tank.volume=80 jugs", "tank.volume", "unknown unit"},
        {"tank.volume=8,5 L", "tank.volume", "a decimal comma"},
        {"tank.volume=L", "tank.volume", "not a number"},
        {"tank.volume=-1 L", "tank.volume", "out of range, got \"-1 L\""},
        {"tank.gas=steam", "tank.gas", "none of the choices"},
        {"pump.poles=2 2", "pump.poles", "a unit with a pure number"},
    };
    struct pd_scenario scenario = pd_scenario_default();
    static struct pd_faults faults;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        faults.count = 0;
        CU_ASSERT_FALSE(pd_scenario_set(&scenario, rows[i].override, &faults));
        CU_ASSERT_EQUAL_FATAL(faults.count, 1);
        CU_ASSERT_STRING_EQUAL(faults.list[0].item, rows[i].item);
        CU_ASSERT_PTR_NOT_NULL(strstr(faults.list[0].text, rows[i].piece));
        CU_ASSERT_EQUAL(faults.list[0].line, 0);
    }
}

void suite_bad_input(void)
{
    CU_pSuite suite = CU_add_suite("bad_input", NULL, NULL);
    CU_add_test(suite, "site.csv", test_site);
    CU_add_test(suite, "pump.csv", test_pump);
    CU_add_test(suite, "demand.csv and profile.csv", test_demand);
    CU_add_test(suite, "supply.csv", test_supply);
    CU_add_test(suite, "missing files", test_missing_files);
    CU_add_test(suite, "a folder in place of a file", test_folder_in_place_of_a_file);
    CU_add_test(suite, "a pipe in place of a file", test_pipe_in_place_of_a_file);
    CU_add_test(suite, "the folder itself", test_folder_itself);
    CU_add_test(suite, "a zero byte", test_zero_byte);
    CU_add_test(suite, "too much of anything", test_too_much);
    CU_add_test(suite, "more faults than are kept", test_more_faults_than_are_kept);
    CU_add_test(suite, "faults of all files at once", test_faults_of_all_files_at_once);
    CU_add_test(suite, "overrides", test_overrides);
}
