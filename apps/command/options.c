/* SPDX-License-Identifier: BSD-3-Clause */
#include "options.h"

#define FIELD(name) offsetof(command_options, name)
#define CHOICE(name) CHOICE_FIELD(command_options, name)

const command_option option_set = {.name = "set",
                                   .letter = 's',
                                   .kind = OPTION_TEXTS,
                                   .field = FIELD(assignments),
                                   .value = "NAME=VALUE",
                                   .help = "set a value; names: cook --print-scenario; repeatable"};
const command_option option_hours = {.name = "hours",
                                     .kind = OPTION_TEXT,
                                     .field = FIELD(hours),
                                     .value = "LIST",
                                     .help = "hours at which to draw maps of a section: 2,6,10"};
const command_option option_format = {.name = "format",
                                      .kind = OPTION_CHOICE,
                                      .field = CHOICE(format),
                                      .value = "FORMAT",
                                      .choices = "table json csv",
                                      .help = "table (the default), json or csv; json, csv: SI"};
const command_option option_format_no_csv = {.name = "format",
                                      .kind = OPTION_CHOICE,
                                      .field = CHOICE(format),
                                      .value = "FORMAT",
                                      .choices = "table json",
                                      .help = "table (the default) or json; json: SI"};
const command_option option_units = {.name = "units",
                                     .letter = 'u',
                                     .kind = OPTION_CHOICE,
                                     .field = CHOICE(units),
                                     .value = "UNITS",
                                     .choices = "si us",
                                     .help = "si (the default) or us, for tables and plots"};
const command_option option_plot = {.name = "plot",
                                    .letter = 'p',
                                    .kind = OPTION_TEXT,
                                    .field = FIELD(plot_path),
                                    .value = "FILE",
                                    .endings = ".svg .png .pdf",
                                    .takes = "a picture is a .svg, .png or .pdf file",
                                    .help = "draw to FILE.svg, FILE.png or FILE.pdf"};
const command_option option_page = {.name = "page",
                                    .kind = OPTION_TEXT,
                                    .field = FIELD(page_path),
                                    .value = "FILE",
                                    .endings = ".html",
                                    .takes = "a page is a .html file",
                                    .help = "write an interactive page, FILE.html"};
const command_option option_output = {.name = "output",
                                      .letter = 'o',
                                      .kind = OPTION_TEXT,
                                      .field = FIELD(output_path),
                                      .value = "FILE",
                                      .help = "write the results to an HDF5 file"};
const command_option option_no_band = {
    .name = "no-band", .kind = OPTION_FLAG, .field = FIELD(no_band), .help = "leave out the range of cooks like this one"};
const command_option option_force = {
    .name = "force", .letter = 'f', .kind = OPTION_FLAG, .field = FIELD(force), .help = "replace files that exist"};
const command_option option_quiet = {
    .name = "quiet", .letter = 'q', .kind = OPTION_FLAG, .field = FIELD(quiet), .help = "no notes, no progress"};
const command_option option_verbose = {
    .name = "verbose", .letter = 'v', .kind = OPTION_FLAG, .field = FIELD(verbose), .help = "say more"};
const command_option option_progress = {.name = "progress",
                                        .kind = OPTION_CHOICE,
                                        .field = CHOICE(progress),
                                        .value = "WHEN",
                                        .choices = "auto always never",
                                        .help = "auto (on a terminal), always or never"};
const command_option option_help = {
    .name = "help", .letter = 'h', .kind = OPTION_FLAG, .field = FIELD(help), .help = "show this help"};
const command_option option_version = {
    .name = "version", .letter = 'V', .kind = OPTION_FLAG, .field = FIELD(version), .help = "show the version"};
