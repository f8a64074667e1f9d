/* SPDX-License-Identifier: BSD-3-Clause */
/* Marks a function whose loops gain from wide vector instructions: it is compiled for several instruction sets and the
 * machine's best one is picked when the program starts. Results differ between machines by round-off only. */
#ifndef SW_VECTOR_CLONES_H
#define SW_VECTOR_CLONES_H

#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && defined(__linux__) && defined(__OPTIMIZE__) && \
    !defined(__SANITIZE_THREAD__) /* its resolvers would run before the sanitizer does */
#define SW_VECTOR_CLONES __attribute__((target_clones("arch=x86-64-v3", "default")))
#define SW_INTO_CLONES __attribute__((always_inline)) inline
#else
#define SW_VECTOR_CLONES
#define SW_INTO_CLONES inline
#endif

#endif
