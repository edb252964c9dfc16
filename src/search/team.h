/* Threads that share the work of searches: loops are cut into tasks, which
 * any idle thread takes, also one that has come to the end of another search.
 */
#ifndef SEARCH_TEAM_H
#define SEARCH_TEAM_H

/* Runs `work`, and all tasks that it makes, to their end: among the team that
 * it is called in, else among one made for it. */
void team_run(void (*work)(void *context), void *context);

/* The same for work that waits for all its tasks itself. Others that are made
 * meanwhile go on, where there is a team. */
void team_join(void (*work)(void *context), void *context);

#endif
