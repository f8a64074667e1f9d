/* SPDX-License-Identifier: BSD-3-Clause */
#include "track_input.h"

prose *track_note(track_input *in)
{
    if (in->note_count == TRACK_NOTES_MAX)
        in->note_count--;
    prose *note = &in->notes[in->note_count++];
    prose_clear(note);
    return note;
}
