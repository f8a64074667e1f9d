/* SPDX-License-Identifier: BSD-3-Clause */
#include "text_file.h"

#include "typed_text.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static sw_status refuse(sw_context *context, const char *path, const char *why)
{
    return sw_fail(context, SW_ERR_FILE, "the file \"%.300s\" cannot be read: %s", path, why);
}

static sw_status read_stream(sw_context *context, const char *path, FILE *stream, char **text, size_t *length)
{
    struct stat about;
    if (fstat(fileno(stream), &about) == 0 && S_ISDIR(about.st_mode))
        return refuse(context, path, "it is a directory");
    char *bytes = malloc(SW_TEXT_FILE_MAX + 1);
    if (!bytes)
        return sw_fail(context, SW_ERR_MEMORY, "memory to read \"%.300s\" could not be allocated", path);
    errno = 0;
    size_t count = fread(bytes, 1, SW_TEXT_FILE_MAX + 1, stream);
    if (ferror(stream) || count > SW_TEXT_FILE_MAX) {
        sw_status status = refuse(context, path, ferror(stream) ? strerror(errno) : "it is larger than 1 MiB");
        free(bytes);
        return status;
    }
    *text = bytes;
    *length = count;
    return SW_OK;
}

sw_status sw_text_file_read(sw_context *context, const char *path, char **text, size_t *length)
{
    if (strcmp(path, "-") == 0)
        return read_stream(context, "standard input", stdin, text, length);
    FILE *stream = fopen(path, "rb");
    if (!stream)
        return refuse(context, path, strerror(errno));
    sw_status status = read_stream(context, path, stream, text, length);
    fclose(stream);
    return status;
}

sw_status sw_text_check(sw_context *context, const char *name, const char *text, size_t length)
{
    int line = 1, column = 1;
    for (size_t i = 0; i < length;) {
        uint32_t character;
        size_t size = sw_utf8_decode(text + i, length - i, &character);
        if (size == 0)
            return sw_fail(context, SW_ERR_INPUT,
                           "%.300s:%d:%d: the byte 0x%02x is not UTF-8 text; save the file as UTF-8", name, line,
                           column, (unsigned)(unsigned char)text[i]);
        bool line_end = character == '\n' || (character == '\r' && !(i + 1 < length && text[i + 1] == '\n'));
        if (sw_is_control(character) && !line_end && character != '\r' && character != '\t')
            return sw_fail(context, SW_ERR_INPUT,
                           "%.300s:%d:%d: the control character U+%04X may not stand in a scenario", name, line, column,
                           (unsigned)character);
        line += line_end;
        column = line_end ? 1 : column + 1;
        i += size;
    }
    return SW_OK;
}

/* Whether it is UTF-8 without control characters. */
static bool is_plain(const char *text)
{
    const size_t length = strlen(text);
    for (size_t i = 0, size; i < length; i += size) {
        uint32_t character;
        size = sw_utf8_decode(text + i, length - i, &character);
        if (size == 0 || sw_is_control(character))
            return false;
    }
    return true;
}

sw_status sw_path_beside(sw_context *context, const char *scenario_file, const char *path, char full[SW_PATH_SIZE])
{
    const char *slash = scenario_file && path[0] != '/' ? strrchr(scenario_file, '/') : NULL;
    const int folder = slash ? (int)(slash - scenario_file) + 1 : 0;
    char shown[SW_QUOTE_SIZE];
    if (!is_plain(path))
        return sw_fail(context, SW_ERR_FILE, "the file %s cannot be read: its name has control characters or is not UTF-8 text", sw_quote(path, shown));
    const int length = snprintf(full, SW_PATH_SIZE, "%.*s%s", folder, slash ? scenario_file : "", path);
    return length < SW_PATH_SIZE ? SW_OK : sw_fail(context, SW_ERR_FILE, "the path \"%.200s...\" is too long", path);
}
