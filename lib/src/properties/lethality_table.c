/* SPDX-License-Identifier: BSD-3-Clause */
#include "lethality_table.h"

#define FAHRENHEIT(degrees) (273.15 + ((degrees)-32) / 1.8)
#define MIN *60.0
#define SEC *1.0

/* USDA FSIS, Appendix A: Compliance Guidelines for Meeting Lethality Performance Standards (seen in two copies, which
 * agree from 130 to 148 F; the 7-log column also stands in California 3 CCR 910.11). At 145 F the older rule says
 * "instantly" and FSIS stresses 4 min: 4 min here. */
#define APPENDIX_A(X)                                                                                                  \
    X(130, 112 MIN, 121 MIN) X(131, 89 MIN, 97 MIN) X(132, 71 MIN, 77 MIN) X(133, 56 MIN, 62 MIN)                      \
    X(134, 45 MIN, 47 MIN) X(135, 36 MIN, 37 MIN) X(136, 28 MIN, 32 MIN) X(137, 23 MIN, 24 MIN)                        \
    X(138, 18 MIN, 19 MIN) X(139, 15 MIN, 15 MIN) X(140, 12 MIN, 12 MIN) X(141, 9 MIN, 10 MIN)                         \
    X(142, 8 MIN, 8 MIN) X(143, 6 MIN, 6 MIN) X(144, 5 MIN, 5 MIN) X(145, 4 MIN, 4 MIN)                                \
    X(146, 169 SEC, 182 SEC) X(147, 134 SEC, 144 SEC) X(148, 107 SEC, 115 SEC) X(149, 85 SEC, 91 SEC)                  \
    X(150, 67 SEC, 72 SEC) X(151, 54 SEC, 58 SEC) X(152, 43 SEC, 46 SEC) X(153, 34 SEC, 37 SEC)                        \
    X(154, 27 SEC, 29 SEC) X(155, 22 SEC, 23 SEC) X(156, 17 SEC, 19 SEC) X(157, 14 SEC, 15 SEC)                        \
    X(158, 0 SEC, 0 SEC)

#define ROW_6_5(degrees, six_and_half, seven) {FAHRENHEIT(degrees), six_and_half},
#define ROW_7(degrees, six_and_half, seven) {FAHRENHEIT(degrees), seven},
static const sw_dwell appendix_a_6_5[] = {APPENDIX_A(ROW_6_5)};
static const sw_dwell appendix_a_7[] = {APPENDIX_A(ROW_7)};

/* FDA Food Code 3-401.11(B)(2) (seen in two state texts: 18 AAC 31.232 and a Florida quotation of the Code). */
static const sw_dwell roasts[] = {
    {FAHRENHEIT(130), 112 MIN}, {FAHRENHEIT(131), 89 MIN}, {FAHRENHEIT(133), 56 MIN},  {FAHRENHEIT(135), 36 MIN},
    {FAHRENHEIT(136), 28 MIN},  {FAHRENHEIT(138), 18 MIN}, {FAHRENHEIT(140), 12 MIN},  {FAHRENHEIT(142), 8 MIN},
    {FAHRENHEIT(144), 5 MIN},   {FAHRENHEIT(145), 4 MIN},  {FAHRENHEIT(147), 134 SEC}, {FAHRENHEIT(149), 85 SEC},
    {FAHRENHEIT(151), 54 SEC},  {FAHRENHEIT(153), 34 SEC}, {FAHRENHEIT(155), 22 SEC},  {FAHRENHEIT(157), 14 SEC},
    {FAHRENHEIT(158), 0 SEC},
};

#define TABLE(rows) {rows, sizeof(rows) / sizeof *(rows)}
const sw_dwell_table sw_appendix_a_6_5_log = TABLE(appendix_a_6_5);
const sw_dwell_table sw_appendix_a_7_log = TABLE(appendix_a_7);
const sw_dwell_table sw_food_code_roasts = TABLE(roasts);
