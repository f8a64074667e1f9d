/* SPDX-License-Identifier: BSD-3-Clause */
/* A small YAML document as a tree with the place of every key and value; yaml_document.c is the only file that sees
 * libfyaml. Only the plain part of YAML is allowed: mappings, lists and scalars; no anchors, aliases or tags. */
#ifndef SW_IO_YAML_DOCUMENT_H
#define SW_IO_YAML_DOCUMENT_H

#include <stallwright/context.h>

#include <stdbool.h>
#include <stddef.h>

typedef enum sw_yaml_kind { SW_YAML_SCALAR, SW_YAML_MAPPING, SW_YAML_LIST } sw_yaml_kind;

typedef struct sw_yaml_node sw_yaml_node;
struct sw_yaml_node {
    sw_yaml_kind kind;
    int line;                     /* from 1 */
    int column;                   /* from 1 */
    bool quoted;                  /* scalar: "" is a text, nothing at all is a missing value */
    char *text;                   /* scalar: valid as long as the document */
    sw_yaml_node *key;            /* of an entry of a mapping, a scalar; NULL elsewhere */
    sw_yaml_node *first;          /* entry of a mapping or a list */
    sw_yaml_node *next;           /* entry */
    sw_yaml_node *created_before; /* for destruction */
};

typedef struct sw_yaml_document sw_yaml_document;

/* Reads a document. name stands in error sentences before ":line:column".
 * SW_OK, SW_ERR_INPUT, SW_ERR_MEMORY; *document is unchanged on error. */
sw_status sw_yaml_document_create(sw_context *context, const char *name, const char *text, size_t length,
                                  sw_yaml_document **document);
void sw_yaml_document_destroy(sw_yaml_document *document);

/* The outermost value; never NULL. */
const sw_yaml_node *sw_yaml_document_root(const sw_yaml_document *document);

#endif
