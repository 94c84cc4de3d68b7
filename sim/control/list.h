/* The strategies, in the order in which they are told; a line each: its file without the ending. */
STRATEGY(pressure_start)
STRATEGY(flow_start)
STRATEGY(peak_only)
