#include "forecast/member.h"

#include "forecast/layer.h"
#include <stdlib.h>
#include <string.h>

static int compare(const struct member *a, const struct member *b) {
    int order = order_of(a->kind, b->kind);
    if (!order)
        order = order_of(a->number, b->number);
    return order ? order : order_of(a->type, b->type);
}

static int by_member(const void *left, const void *right) {
    return compare(left, right);
}

/* --- what is there -------------------------------------------------------- */

/* Keeps the list in order; fields of one member mostly follow one another. */
static void add(struct roster *roster, size_t *capacity,
                const struct grib_field *field, struct arena *arena) {
    enum quantity quantity = field->parameter.quantity;
    struct member *list = roster->members[quantity];
    size_t count = roster->count[quantity];
    if (count > 0 &&
        bsearch(&field->member, list, count, sizeof *list, by_member))
        return;
    if (count == ROSTER_MEMBERS) {
        roster->full = true;
        return;
    }
    list = arena_room(arena, list, count, &capacity[quantity], sizeof *list);
    size_t at = count;
    for (; at > 0 && compare(&list[at - 1], &field->member) > 0; at--)
        list[at] = list[at - 1];
    list[at] = field->member;
    roster->members[quantity] = list;
    roster->count[quantity]++;
}

struct roster roster_of(const struct batch *batch, struct arena *arena) {
    struct roster roster = {.count = {0}};
    size_t capacity[QUANTITY_COUNT] = {0};
    for (size_t i = 0; i < batch->count; i++)
        if (batch->fields[i].field.fate == FATE_USED)
            add(&roster, capacity, &batch->fields[i].field, arena);
    return roster;
}

/* --- in words ------------------------------------------------------------- */

void member_print(struct member member, char text[MEMBER_TEXT_SIZE]) {
    if (member.kind == MEMBER_NONE)
        snprintf(text, MEMBER_TEXT_SIZE, "the forecast without members");
    else if (member.kind == MEMBER_CONTROL)
        snprintf(text, MEMBER_TEXT_SIZE, "the control");
    else
        snprintf(text, MEMBER_TEXT_SIZE, "member %d", member.number);
}

/* "1 to 5, 7", of those that have numbers. */
static const char *numbers_text(const struct member *members, size_t count,
                                struct arena *arena) {
    const char *text = "";
    for (size_t i = 0; i < count;) {
        size_t last = i;
        while (last + 1 < count &&
               members[last + 1].number <= members[last].number + 1)
            last++;
        const char *comma = i > 0 ? ", " : "";
        if (last == i)
            text = arena_print(arena, "%s%s%d", text, comma, members[i].number);
        else
            text = arena_print(arena, "%s%s%d to %d", text, comma,
                               members[i].number, members[last].number);
        i = last + 1;
    }
    return text;
}

/* The place of the first perturbed one. */
static size_t first_perturbed(const struct roster *roster,
                              enum quantity quantity) {
    size_t first = 0;
    while (first < roster->count[quantity] &&
           roster->members[quantity][first].kind != MEMBER_PERTURBED)
        first++;
    return first;
}

const char *roster_text(const struct roster *roster, enum quantity quantity,
                        struct arena *arena) {
    const struct member *members = roster->members[quantity];
    size_t count = roster->count[quantity];
    size_t first = first_perturbed(roster, quantity);
    if (count == 0 || (count == 1 && members[0].kind == MEMBER_NONE))
        return NULL;
    bool plain = members[0].kind == MEMBER_NONE;
    size_t inside = count - plain;
    bool control = first > plain;
    return arena_print(arena, "%s%zu member%s (%s%s%s)",
                       plain ? "the forecast without members and " : "", inside,
                       inside == 1 ? "" : "s", control ? "the control" : "",
                       control && first < count ? ", " : "",
                       numbers_text(members + first, count - first, arena));
}

/* --- which one ------------------------------------------------------------ */

/* The control, else without members, else the lowest. */
static struct member preferred(const struct roster *roster,
                               enum quantity quantity) {
    const struct member *members = roster->members[quantity];
    for (size_t i = 0; i < roster->count[quantity]; i++)
        if (members[i].kind == MEMBER_CONTROL)
            return members[i];
    return members[0];
}

/* The same member of another quantity; centres give one perturbation other
 * types in products for air and sea. */
static const struct member *same_in(const struct roster *roster,
                                    enum quantity quantity,
                                    struct member member) {
    const struct member *members = roster->members[quantity], *near = NULL;
    for (size_t i = 0; i < roster->count[quantity]; i++) {
        if (compare(&members[i], &member) == 0)
            return &members[i];
        bool like = members[i].kind == member.kind &&
                    (members[i].kind != MEMBER_PERTURBED ||
                     members[i].number == member.number);
        if (like && !near)
            near = &members[i];
    }
    return near;
}

static const struct member *without_members(const struct roster *roster,
                                            enum quantity quantity) {
    const struct member *members = roster->members[quantity];
    return members[0].kind == MEMBER_NONE ? members : NULL;
}

static void choose(struct choice *choice, const struct roster *roster,
                   struct member wind, bool asked) {
    for (int i = 0; i < QUANTITY_COUNT; i++) {
        enum quantity quantity = (enum quantity)i;
        if (roster->count[i] == 0)
            continue;
        const struct member *same = same_in(roster, quantity, wind);
        if (!same)
            same = without_members(roster, quantity);
        choice->used[i] = same || !asked;
        choice->member[i] = same ? *same : preferred(roster, quantity);
    }
}

struct choice choice_of(const struct roster *roster, struct member member) {
    struct choice choice = {.used = {false}};
    choose(&choice, roster, member, true);
    return choice;
}

static bool no_such(const struct roster *roster, int number,
                    struct notes *notes, struct error *error) {
    const char *there = roster_text(roster, QUANTITY_WIND, notes->arena);
    if (!there)
        return error_set(error, STATUS_INPUT,
                         "member %d is asked for, but the wind of the forecast "
                         "files has no members; leave the member out, or give "
                         "the files of an ensemble",
                         number);
    return error_set(error, STATUS_INPUT,
                     "the wind of the forecast files has no member %d; there "
                     "%s %s: give one of them",
                     number, roster->count[QUANTITY_WIND] == 1 ? "is" : "are",
                     there);
}

static bool find_number(const struct roster *roster, int number,
                        struct member *found, struct notes *notes,
                        struct error *error) {
    const struct member *members = roster->members[QUANTITY_WIND];
    size_t matches = 0;
    for (size_t i = 0; i < roster->count[QUANTITY_WIND]; i++) {
        if (members[i].kind == MEMBER_NONE || members[i].number != number)
            continue;
        if (matches++ == 0)
            *found = members[i];
    }
    if (matches > 1)
        return error_set(error, STATUS_INPUT,
                         "%zu members of the forecast files have the number "
                         "%d; give files that hold one of them",
                         matches, number);
    return matches == 1 || no_such(roster, number, notes, error);
}

/* --- notes ---------------------------------------------------------------- */

/* Why this is told of a quantity, without its name. */
static const char *told_of(const struct roster *roster,
                           const struct choice *choice, enum quantity quantity,
                           bool asked, struct arena *arena) {
    char used[MEMBER_TEXT_SIZE];
    const char *there = roster_text(roster, quantity, arena);
    member_print(choice->member[quantity], used);
    if (!there)
        return NULL;
    if (!choice->used[quantity])
        return arena_print(arena,
                           "%s there, but not the member that is asked "
                           "for: not used",
                           roster->count[quantity] == 1
                               ? arena_print(arena, "%s is", there)
                               : arena_print(arena, "%s are", there));
    if (roster->count[quantity] > 1)
        return arena_print(arena, "%s are there; %s is used%s", there, used,
                           asked ? ", as asked for" : "");
    if (choice->member[quantity].kind == MEMBER_PERTURBED && !asked)
        return arena_print(arena, "only %s of an ensemble is there; it is used",
                           used);
    return NULL;
}

/* Quantities of which the same has to be told share a note. */
static void tell(const struct roster *roster, const struct choice *choice,
                 bool asked, struct notes *notes) {
    const char *told[QUANTITY_COUNT];
    for (int i = 0; i < QUANTITY_COUNT; i++)
        told[i] =
            told_of(roster, choice, (enum quantity)i, asked, notes->arena);
    for (int i = 0; i < QUANTITY_COUNT; i++) {
        if (!told[i])
            continue;
        const char *names = quantity_name((enum quantity)i);
        for (int k = i + 1; k < QUANTITY_COUNT; k++) {
            if (!told[k] || strcmp(told[k], told[i]) != 0)
                continue;
            names = arena_print(notes->arena, "%s, %s", names,
                                quantity_name((enum quantity)k));
            told[k] = NULL;
        }
        notes_add(notes, arena_print(notes->arena, "%s: %s", names, told[i]));
    }
}

bool choice_make(struct choice *choice, const struct roster *roster,
                 struct figure number, struct notes *notes,
                 struct error *error) {
    struct member wind = {.kind = MEMBER_CONTROL};
    bool any = roster->count[QUANTITY_WIND] > 0;
    *choice = (struct choice){.used = {false}};
    if (roster->full)
        notes_add(notes, arena_print(notes->arena,
                                     "there are more than %d members; the "
                                     "rest is not used",
                                     ROSTER_MEMBERS));
    if (any && number.known &&
        !find_number(roster, (int)number.value, &wind, notes, error))
        return false;
    if (any && !number.known)
        wind = preferred(roster, QUANTITY_WIND);
    choose(choice, roster, wind, number.known);
    tell(roster, choice, number.known, notes);
    return true;
}

bool choice_takes(const struct choice *choice, const struct grib_field *field) {
    enum quantity quantity = field->parameter.quantity;
    return field->fate == FATE_USED && choice->used[quantity] &&
           compare(&choice->member[quantity], &field->member) == 0;
}
