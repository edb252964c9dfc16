/* How long plans take beside the bare reading of their forecasts, how that
 * grows, and what is found in how much time. `make bench` runs it from the top
 * of the project and makes the inputs; $SPARWISE is the program; words choose
 * parts: whole, growth, accuracy, land, roll, window. Prints Markdown. Ratios
 * come first: they move less from machine to machine than seconds. */
#include "measure.h"
#include "tables.h"

#include <eccodes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* At the start of a bench nothing else should run. */
static const double BUSY = 1.0;

/* The name that the processor gives itself. */
static void read_model(char *model, size_t size) {
    char line[256];
    FILE *stream = fopen("/proc/cpuinfo", "r");
    snprintf(model, size, "%s", "a processor without a name");
    while (stream && fgets(line, sizeof line, stream)) {
        const char *colon = strchr(line, ':');
        if (strncmp(line, "model name", 10) == 0 && colon && colon[1]) {
            snprintf(model, size, "%.*s", (int)strcspn(colon + 2, "\n"),
                     colon + 2);
            break;
        }
    }
    if (stream)
        fclose(stream);
}

/* Others' work on the machine, averaged over a minute. */
static double read_load(void) {
    char line[64] = "";
    FILE *stream = fopen("/proc/loadavg", "r");
    if (!stream)
        return 0.0;
    if (!fgets(line, sizeof line, stream))
        line[0] = '\0';
    fclose(stream);
    return strtod(line, NULL);
}

static void print_machine(void) {
    char model[128];
    long eccodes = codes_get_api_version();
    double load = read_load();
    read_model(model, sizeof model);
    printf("sparwise %s on %ld cores, %s; compiler %s, ecCodes %ld.%ld.%ld.\n"
           "Best of %d, fewer where they take over %.0f s.\n",
           SPARWISE_VERSION, sysconf(_SC_NPROCESSORS_ONLN), model, __VERSION__,
           eccodes / 10000, eccodes / 100 % 100, eccodes % 100, MEASURE_ROUNDS,
           MEASURE_ENOUGH_S);
    if (load > BUSY)
        printf("The machine had other work (load %.1f): times are too long.\n",
               load);
}

static const struct {
    const char *name;
    void (*print)(void);
} parts[] = {{"whole", whole_tables},       {"growth", growth_tables},
             {"accuracy", accuracy_tables}, {"land", land_table},
             {"roll", roll_tables},         {"window", window_table}};

/* Is it among the words, or are there none? */
static bool is_wanted(const char *name, int count, char **words) {
    for (int i = 1; i < count; i++)
        if (strcmp(words[i], name) == 0)
            return true;
    return count == 1;
}

int main(int count, char **words) {
    double start_s = seconds_now();
    print_machine();
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        if (is_wanted(parts[i].name, count, words))
            parts[i].print();
    printf("\nThe whole bench took %.0f s.\n", seconds_now() - start_s);
    return 0;
}
