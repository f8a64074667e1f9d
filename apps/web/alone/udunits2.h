/* SPDX-License-Identifier: BSD-3-Clause */
/* What lib/src/text/units.c includes. */
#include "unit_reader.h"
