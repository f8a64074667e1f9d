/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Marks the functions a user of the library may call. */
#ifndef STALLWRIGHT_EXPORT_H
#define STALLWRIGHT_EXPORT_H

#if defined(_WIN32)
#define SW_API
#elif defined(__GNUC__)
#define SW_API __attribute__((visibility("default")))
#else
#define SW_API
#endif

/** Marks what a later version removes, and says what to use instead: docs/changes.md. */
#if defined(__GNUC__)
#define SW_DEPRECATED(instead) __attribute__((deprecated(instead)))
#else
#define SW_DEPRECATED(instead)
#endif

#ifdef __cplusplus
#define SW_BEGIN_DECLARATIONS extern "C" {
#define SW_END_DECLARATIONS }
#else
#define SW_BEGIN_DECLARATIONS
#define SW_END_DECLARATIONS
#endif

#endif
