/* The words of each key of choices, ended by a NULL word. Inside the model only. */
#ifndef AMPSUM_CHOICES_H
#define AMPSUM_CHOICES_H

#include "ampsum/keys.h"

extern const struct choice system_choices[];
extern const struct choice frequency_choices[];
extern const struct choice trip_choices[];
extern const struct choice poles_choices[];
extern const struct choice method_choices[];
extern const struct choice cable_choices[];
extern const struct choice terminals_choices[];
extern const struct choice insulation_choices[];
extern const struct choice rcd_ma_choices[];
extern const struct choice rcd_type_choices[];
extern const struct choice edition_choices[];
extern const struct choice earthing_choices[];
extern const struct choice room_kind_choices[];
extern const struct choice rating_from_choices[];
extern const struct choice connection_choices[];
extern const struct choice control_choices[];
extern const struct choice layout_choices[];
extern const struct choice purpose_choices[];
extern const struct choice behaviour_choices[];
extern const struct choice yesno_choices[];
extern const struct choice category_choices[];

/* The value of a word; `otherwise` where none is it. */
int choice_value(const struct choice *choices, const char *word, int otherwise);

#endif
