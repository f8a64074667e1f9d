/* SPDX-License-Identifier: BSD-3-Clause */
/* The cases, in the order of the report. Each fills one. */
#ifndef SW_VALIDATION_CASES_H
#define SW_VALIDATION_CASES_H

#include "case.h"

/* Standards and exact solutions: the solver must meet every row. */
void validate_en_15026(report_case *c);
void validate_hamstad(report_case *c);
void validate_luikov(report_case *c);
void validate_psychrometrics(report_case *c);
void validate_safety_tables(report_case *c);

/* Studies: computed cooks against what was published. */
void validate_usda_composition(report_case *c);
void validate_smoked_brisket(report_case *c);
void validate_roasting_findings(report_case *c);
void validate_responses(report_case *c);

/* Bands of the trade. */
void validate_trade_bands(report_case *c);

#endif
