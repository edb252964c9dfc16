#include "report/cards.h"

#include "base/units.h"
#include "report/sheet.h"

/* For whom a card is; OVERBOARD: for anybody, and in a hurry. */
enum preventer { ANY, BOTH, SINGLE, OVERBOARD };

struct card {
    enum preventer preventer;
    const char *title;
    const char *steps[10]; /* to the first NULL */
};

static const struct card cards[] = {
    {ANY,
     "SET",
     {"Preventer on. Headsail rolled away.", "One person forward, clipped on.",
      "Spar out; made fast by topping lift, foreguy and afterguy.",
      "Everybody back in the cockpit.",
      "Unroll the headsail on the sheet that runs through the spar's end."}},
    {BOTH,
     "GYBE",
     {"Roll the headsail away.",
      "One person forward, clipped on: spar across to the other side, made "
      "fast.",
      "Everybody back in the cockpit. Nobody forward while the boom comes "
      "over.",
      "Old preventer off. Mainsheet hard in. Gybe. Ease. New preventer on.",
      "Unroll the headsail on the new side."}},
    {SINGLE,
     "GYBE, SINGLE PREVENTER",
     {"Roll the headsail away. Mainsheet hard in.",
      "One person forward, clipped on: preventer off; spar across to the other "
      "side, made fast.",
      "Everybody back in the cockpit. Nobody forward while the boom comes "
      "over.",
      "Gybe. Ease.",
      "One person forward, clipped on: preventer to the new side.",
      "Everybody back in the cockpit. Preventer on.",
      "Unroll the headsail on the new side."}},
    {ANY,
     "SPAR ACROSS, THE BOOM STAYS",
     {"Roll the headsail away.",
      "The boom stays where it is, its preventer on: this is no gybe.",
      "One person forward, clipped on: spar across, made fast.",
      "Everybody back in the cockpit.",
      "Unroll the headsail on the new side."}},
    {ANY,
     "STOW",
     {"Roll the headsail away first.", "One person forward, clipped on.",
      "Spar down and lashed.", "Everybody back in the cockpit."}},
    {BOTH,
     "MAINSAIL GYBE, THE SPAR STAYS OUT",
     {"The spar stays on its side: poled reach becomes wing-and-wing, or back.",
      "If the spar comes in next: roll the headsail away first.",
      "Nobody forward. Old preventer off, mainsheet hard in, gybe, ease, new "
      "preventer on.",
      "Trim the spar."}},
    {SINGLE,
     "MAINSAIL GYBE, THE SPAR STAYS OUT, SINGLE PREVENTER",
     {"The spar stays on its side: poled reach becomes wing-and-wing, or back.",
      "If the spar comes in next: roll the headsail away first.",
      "Mainsheet hard in. One person forward, clipped on: preventer off.",
      "Everybody back in the cockpit. Gybe. Ease.",
      "One person forward, clipped on: preventer to the new side.",
      "Everybody back in the cockpit. Preventer on.", "Trim the spar."}},
    {OVERBOARD,
     "PERSON OVERBOARD, SPAR OUT",
     {"Shout, point, throw, mark the place.", "Roll the headsail away.",
      "Preventer off. Round up.", "Motor on only with no line in the water."}},
};

static bool is_for(const struct card *card, const struct boat *boat) {
    bool single = boat->handling.single_preventer;
    return card->preventer == ANY || card->preventer == OVERBOARD ||
           (card->preventer == SINGLE) == single;
}

/* How far she goes meanwhile is told at this speed. */
static const double AWAY_KN = 6.0;

/* Not before the headsail is rolled can she come round. */
static void write_time_to_turn(const struct boat *boat, FILE *stream) {
    const struct spar *spar = &boat->spar;
    char text[200];
    snprintf(text, sizeof text,
             "Before she can turn back: %.3g min for the headsail, at night "
             "%.3g min, then the preventer. At %.0f kn she is %.1f nmi away by "
             "then, at night %.1f nmi.",
             spar->roll_s / SECONDS_PER_MINUTE,
             spar->roll_s * spar->night_factor / SECONDS_PER_MINUTE, AWAY_KN,
             AWAY_KN * s_to_hours(spar->roll_s),
             AWAY_KN * s_to_hours(spar->roll_s * spar->night_factor));
    sheet_paragraph(stream, 5, 0, text);
}

void cards_write(const struct boat *boat, FILE *stream) {
    sheet_heading(stream, "STEPS ON DECK  (common practice; your own drill "
                          "goes before it)");
    for (size_t i = 0; i < sizeof cards / sizeof cards[0]; i++) {
        if (!is_for(&cards[i], boat))
            continue;
        sheet_paragraph(stream, 2, 0, cards[i].title);
        for (int step = 0; cards[i].steps[step]; step++) {
            char mark[16];
            snprintf(mark, sizeof mark, "%2d", step + 1);
            sheet_item(stream, mark, cards[i].steps[step]);
        }
        if (cards[i].preventer == OVERBOARD)
            write_time_to_turn(boat, stream);
    }
}
