/* SPDX-License-Identifier: BSD-3-Clause */
/* What the writer and the reader of results files must agree on beyond the names of series and figures. */
#ifndef SW_IO_RESULTS_LAYOUT_H
#define SW_IO_RESULTS_LAYOUT_H

/* Value of the root's attribute sw_file_format. */
#define SW_RESULTS_FORMAT "1.6"

/* Group of the endings that were planned and did not come. */
#define SW_MISSING_GROUP "missing"

/* Group of a side of the cut within that of the phases. */
#define SW_SIDE_GROUP "%s_side"

/* Sizes of the meat as it was modelled, those included that the scenario left open: attribute, field. */
#define SW_MODELLED_SIZE_LIST(X)                                                                                       \
    X("sw_thickness_m", thickness)                                                                                     \
    X("sw_width_m", width)                                                                                             \
    X("sw_end_thickness_m", end_thickness)

#endif
