/* The loss of a pipe as a table of cubics with exact values and slopes at the nodes.
 *
 * A cubic over a cell of width h misses by h^4 / 384 of the fourth derivative, which is large only
 * around the passage from laminar to turbulent flow; there the cells are made finer. */
#include "friction.h"

#include <math.h>

/* Reynolds numbers between which even cells are too wide: Churchill's blend is still bent by its
 * laminar end at the first and by its jump at the second. */
static const double passage_from = 1200;
static const double passage_to = 8000;

/* Number of the first cells in which a power of the flow is still too bent for one cubic. */
static const double bent_cells = 16;

/* Values and slopes at evenly spaced flows from `first` on. */
static void fill(const struct pd_loss_table *table, double first, double step, double *loss,
                 double *slope)
{
    for (int i = 0; i <= PD_LOSS_CELLS; i++) {
        double by_flow;
        loss[i] = pd_pipe_loss_slope(&table->pipe, table->density, table->viscosity,
                                     first + i * step, &by_flow);
        slope[i] = by_flow * step;
    }
}

/* Places the fine cells between two nodes of the even ones, so that both agree where they meet. */
static void place_fine_cells(struct pd_loss_table *table, double reynolds_per_cell)
{
    double last = fmax(passage_to / reynolds_per_cell, bent_cells);

    table->fine_from = fmin(floor(passage_from / reynolds_per_cell), PD_LOSS_CELLS - 1);
    table->fine_to = fmin(ceil(last), PD_LOSS_CELLS);
    table->fine_per_cell = PD_LOSS_CELLS / (table->fine_to - table->fine_from);
}

void pd_loss_table_build(struct pd_loss_table *table, const struct pd_pipe *pipe, double density,
                         double viscosity, double range)
{
    const double pi = 3.14159265358979323846;
    double cell = range / PD_LOSS_CELLS;

    table->pipe = *pipe;
    table->density = density;
    table->viscosity = viscosity;
    table->range = range;
    table->cells_per_flow = PD_LOSS_CELLS / range;
    place_fine_cells(table, 4 * density * cell / (pi * pipe->diameter * viscosity));
    fill(table, 0, cell, table->loss, table->slope);
    fill(table, table->fine_from * cell, cell / table->fine_per_cell, table->fine_loss,
         table->fine_slope);
}

/* Value at a place (cells from the first node) on the cubics; *slope per cell. */
static double cubic_at(const double *loss, const double *slope, double place, double *slope_out)
{
    int i = (int)place;
    double u = place - i;
    double rise = loss[i + 1] - loss[i];
    double from = slope[i], to = slope[i + 1];
    double square = 3 * rise - 2 * from - to;
    double cube = from + to - 2 * rise;

    *slope_out = from + u * (2 * square + 3 * u * cube);
    return loss[i] + u * (from + u * (square + u * cube));
}

double pd_loss_table_at(const struct pd_loss_table *table, double flow, double *slope)
{
    double place = fabs(flow) * table->cells_per_flow;
    double loss, by_cell;

    // beyond the table, and for a flow that is not a number
    if (!(place < PD_LOSS_CELLS)) {
        return pd_pipe_loss_slope(&table->pipe, table->density, table->viscosity, flow, slope);
    }
    if (place >= table->fine_from && place < table->fine_to) {
        double fine = (place - table->fine_from) * table->fine_per_cell;
        // rounding must not lead past the last fine cell
        fine = fine < PD_LOSS_CELLS ? fine : PD_LOSS_CELLS - 1e-9;
        loss = cubic_at(table->fine_loss, table->fine_slope, fine, &by_cell);
        by_cell *= table->fine_per_cell;
    } else {
        loss = cubic_at(table->loss, table->slope, place, &by_cell);
    }
    *slope = by_cell * table->cells_per_flow;
    return flow < 0 ? -loss : loss;
}
