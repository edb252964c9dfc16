#include "report/cards.h"

#include "report/sheet.h"

struct card {
    const char *title;
    const char *steps[10]; /* to the first NULL */
};

static const struct card cards[] = {
    {"SET",
     {"Preventer on. Headsail rolled away.", "One person forward, clipped on.",
      "Spar out; made fast by topping lift, foreguy and afterguy.",
      "Everybody back in the cockpit.",
      "Unroll the headsail on the sheet that runs through the spar's end."}},
    {"GYBE",
     {"Roll the headsail away.",
      "One person forward, clipped on: spar across to the other side, made "
      "fast.",
      "Everybody back in the cockpit. Nobody forward while the boom comes "
      "over.",
      "Preventer off. Mainsheet hard in. Gybe. Ease. Preventer on.",
      "Unroll the headsail on the new side."}},
    {"SPAR ACROSS, THE BOOM STAYS",
     {"Roll the headsail away.",
      "The boom stays where it is, its preventer on: this is no gybe.",
      "One person forward, clipped on: spar across, made fast.",
      "Everybody back in the cockpit.",
      "Unroll the headsail on the new side."}},
    {"STOW",
     {"Roll the headsail away first.", "One person forward, clipped on.",
      "Spar down and lashed.", "Everybody back in the cockpit."}},
    {"MAINSAIL GYBE, THE SPAR STAYS OUT",
     {"The spar stays on its side: poled reach becomes wing-and-wing, or back.",
      "If the spar comes in next: roll the headsail away first.",
      "Nobody forward. Preventer off, mainsheet hard in, gybe, ease, preventer "
      "on.",
      "Trim the spar."}},
    {"PERSON OVERBOARD, SPAR OUT",
     {"Shout, point, throw, mark the place.", "Roll the headsail away.",
      "Preventer off. Round up.", "Motor on only with no line in the water."}},
};

void cards_write(FILE *stream) {
    sheet_heading(stream, "STEPS ON DECK  (common practice; your own drill "
                          "goes before it)");
    for (size_t i = 0; i < sizeof cards / sizeof cards[0]; i++) {
        fprintf(stream, "  %s\n", cards[i].title);
        for (int step = 0; cards[i].steps[step]; step++) {
            char mark[16];
            snprintf(mark, sizeof mark, "%2d", step + 1);
            sheet_item(stream, mark, cards[i].steps[step]);
        }
    }
}
