/* The tables of the bench, in the order in which they are printed. */
#ifndef BENCH_TABLES_H
#define BENCH_TABLES_H

/* Whole plans by the program itself, beside the floor; then their parts. */
void whole_tables(void);

/* How the time grows with passage, grid and threads. */
void growth_tables(void);

/* What is found in how much time, on the hard forecast. */
void accuracy_tables(void);

/* What land adds to the demo passages. */
void land_table(void);

/* Many departures beside as many plans. */
void window_table(void);

/* The roll table: to make, to look into. */
void roll_tables(void);

#endif
