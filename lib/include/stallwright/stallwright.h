/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * The whole public interface of stallwright. */
#ifndef STALLWRIGHT_H
#define STALLWRIGHT_H

#include <stallwright/context.h>
#include <stallwright/files.h>
#include <stallwright/handles.h>
#include <stallwright/memory.h>
#include <stallwright/quantity.h>
#include <stallwright/status.h>
#include <stallwright/version.h>

#endif
