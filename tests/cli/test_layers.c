/* The check of the rooms tells what goes up and what goes round, and passes what does neither. */
#include "cli/program.h"

#include <CUnit/CUnit.h>

void suite_layers(void);

/* a plant that asks physics, which asks nobody: as `nm -A -g` lists it */
#define SOUND                                                                                      \
    "build/sim/physics/tank.o:00000000 T pd_tank_water\\n"                                         \
    "build/sim/model/plant.o:         U pd_tank_water\\n"                                          \
    "build/sim/model/plant.o:         U sqrt\\n"                                                   \
    "build/sim/model/plant.o:00000000 T pd_plant_build\\n"

static void test_layers_pass(void)
{
    CU_ASSERT(program_ends("printf '" SOUND "' | tests/layers", 0, ""));
}

static void test_what_goes_up_is_told(void)
{
    CU_ASSERT(program_ends("printf '" SOUND "build/sim/physics/tank.o: U pd_plant_build\\n' | "
                           "tests/layers",
                           1, "goes up: physics/tank uses pd_plant_build of model/plant"));
}

static void test_a_circle_in_a_room_is_told(void)
{
    CU_ASSERT(program_ends("printf '" SOUND "build/sim/model/plant.o: U circuit_of\\n"
                           "build/sim/model/circuit.o:00000000 T circuit_of\\n"
                           "build/sim/model/circuit.o: U pd_plant_build\\n' | tests/layers",
                           1, "goes round:\nmodel/circuit\nmodel/plant\n"));
}

static void test_a_room_without_a_place_and_nothing_at_all_are_told(void)
{
    CU_ASSERT(program_ends("printf '" SOUND
                           "build/sim/attic/a.o: U pd_plant_build\\n' | tests/layers",
                           1, "no such room: attic/a"));
    CU_ASSERT(program_ends("tests/layers < /dev/null", 1, "no symbols"));
}

void suite_layers(void)
{
    CU_pSuite suite = CU_add_suite("layers", NULL, NULL);

    CU_add_test(suite, "layers pass", test_layers_pass);
    CU_add_test(suite, "what goes up is told", test_what_goes_up_is_told);
    CU_add_test(suite, "a circle in a room is told", test_a_circle_in_a_room_is_told);
    CU_add_test(suite, "a room without a place, and nothing at all, are told",
                test_a_room_without_a_place_and_nothing_at_all_are_told);
}
