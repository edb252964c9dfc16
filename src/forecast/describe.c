#include "forecast/state.h"
void forecast_describe(const struct forecast *forecast, FILE *stream) {
    for (size_t i = 0; i < forecast->notes.count; i++)
        fprintf(stream, "%s\n", forecast->notes.texts[i]);
}
