/* SPDX-License-Identifier: BSD-3-Clause */
#include "picture_file.h"

#include "messages.h"

#include <stallwright/everything.h>

#include <iconv.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

/* The file as drawn, and the stream of what takes its place. */
typedef struct rewriting {
    const char *bytes; /* a zero follows them */
    size_t length;
    const char *title, *description;
    int dots_per_inch;
    FILE *out;
} rewriting;

/* ---- SVG: elements title and desc (SVG 1.1, 5.4) first in the picture; letters as themselves, not by their numbers ---- */

static void put_escaped(const char *text, FILE *out)
{
    for (; *text; text++)
        if (*text == '&' || *text == '<' || *text == '>')
            fprintf(out, "&#%d;", *text);
        else if ((unsigned char)*text >= ' ') /* XML has no other control characters */
            fputc(*text, out);
}

/* The letter that "&#x41;" stands for; 0 if it is to stay as it is. */
static char letter_of(const char *at, size_t *length)
{
    char *end;
    if (strncmp(at, "&#x", 3) != 0)
        return 0;
    const long code = strtol(at + 3, &end, 16);
    *length = (size_t)(end - at) + 1;
    return *end == ';' && code >= ' ' && code < 127 && !strchr("&<>", (int)code) ? (char)code : 0;
}

static bool describe_svg(const rewriting *r)
{
    const char *start = strstr(r->bytes, "<svg"), *at = start ? strchr(start, '>') : NULL;
    if (!at)
        return false;
    at++;
    fwrite(r->bytes, 1, (size_t)(at - r->bytes), r->out);
    fputs("\n  <title>", r->out);
    put_escaped(r->title, r->out);
    fputs("</title>\n  <desc>", r->out);
    put_escaped(r->description, r->out);
    fputs("</desc>", r->out);
    for (size_t length = 1; *at; at += length) {
        const char letter = letter_of(at, &length);
        if (!letter)
            length = 1;
        fputc(letter ? letter : *at, r->out);
    }
    return true;
}

/* ---- PNG: a chunk pHYs (PNG specification, 11.3.5.3) after the first, which tells the size of the picture ---- */

static void put_number(uint32_t number, unsigned char *at)
{
    for (int i = 0; i < 4; i++)
        at[i] = (unsigned char)(number >> (24 - 8 * i));
}

/* Annex D of the PNG specification: the polynomial of ISO 3309. */
static uint32_t checksum_of(const unsigned char *bytes, size_t length)
{
    uint32_t sum = 0xffffffff;
    for (size_t i = 0; i < length; i++) {
        sum ^= bytes[i];
        for (int bit = 0; bit < 8; bit++)
            sum = sum & 1 ? 0xedb88320 ^ (sum >> 1) : sum >> 1;
    }
    return ~sum;
}

static bool describe_png(const rewriting *r)
{
    /* The signature, then the chunk IHDR: length, name, 13 bytes, checksum. */
    enum { AFTER_FIRST = 8 + 12 + 13, CHUNK = 9 };
    unsigned char chunk[4 + 4 + CHUNK + 4] = {0, 0, 0, CHUNK, 'p', 'H', 'Y', 's'};
    const uint32_t dots_per_metre = (uint32_t)(r->dots_per_inch / SW_INCH + 0.5);
    if (r->length < AFTER_FIRST || memcmp(r->bytes + 12, "IHDR", 4) != 0)
        return false;
    put_number(dots_per_metre, chunk + 8);
    put_number(dots_per_metre, chunk + 12);
    chunk[16] = 1; /* the unit is the metre */
    put_number(checksum_of(chunk + 4, 4 + CHUNK), chunk + 8 + CHUNK);
    fwrite(r->bytes, 1, AFTER_FIRST, r->out);
    fwrite(chunk, 1, sizeof chunk, r->out);
    fwrite(r->bytes + AFTER_FIRST, 1, r->length - AFTER_FIRST, r->out);
    return true;
}

/* ---- PDF: an update behind the end (ISO 32000-1, 7.5.6) that puts another dictionary of information in the place of the first ---- */

/* A text string: UTF-16, its highest byte first, in hexadecimal digits. What is no UTF-8 becomes a question mark. */
static void put_pdf_text(const char *text, FILE *out)
{
    iconv_t into = iconv_open("UTF-16BE", "UTF-8");
    char *at = (char *)(uintptr_t)text;
    size_t left = strlen(text);
    fputs("<FEFF", out);
    while (into != (iconv_t)-1 && left > 0) {
        unsigned char letter[4];
        char *end = (char *)letter;
        size_t room = sizeof letter, one = 1;
        while (one < left && ((unsigned char)at[one] & 0xC0) == 0x80)
            one++;
        char *from = at;
        size_t size = one;
        if (iconv(into, &from, &size, &end, &room) == (size_t)-1) {
            iconv(into, NULL, NULL, NULL, NULL);
            fputs("003F", out);
        }
        for (const unsigned char *byte = letter; byte < (unsigned char *)end; byte++)
            fprintf(out, "%02X", *byte);
        at += one;
        left -= one;
    }
    if (into != (iconv_t)-1)
        iconv_close(into);
    fputc('>', out);
}

/* The last place of a word in the file; its bytes may hold zeros. */
static const char *last_of(const rewriting *r, const char *word)
{
    const size_t length = strlen(word);
    for (size_t at = r->length > length ? r->length - length : 0; at > 0; at--)
        if (memcmp(r->bytes + at, word, length) == 0)
            return r->bytes + at;
    return NULL;
}

/* Blanks in the place of the date that the drawing library wrote, of this moment whatever the environment says. */
static void put_without_date(const rewriting *r)
{
    const char *date = last_of(r, "/CreationDate (D:"), *end = date ? strchr(date, ')') : NULL;
    const size_t before = end ? (size_t)(date - r->bytes) : r->length, after = end ? (size_t)(end + 1 - r->bytes) : r->length;
    fwrite(r->bytes, 1, before, r->out);
    for (size_t i = before; i < after; i++)
        fputc(' ', r->out);
    fwrite(r->bytes + after, 1, r->length - after, r->out);
}

static bool describe_pdf(const rewriting *r, const struct tm *utc)
{
    const char *trailer = last_of(r, "trailer"), *start = last_of(r, "startxref");
    const char *size = trailer ? strstr(trailer, "/Size ") : NULL, *catalog = trailer ? strstr(trailer, "/Root ") : NULL,
               *information = trailer ? strstr(trailer, "/Info ") : NULL;
    char date[32];
    if (!start || !size || !catalog || !information)
        return false;
    const long number = atol(information + 6);
    strftime(date, sizeof date, "%Y%m%d%H%M%SZ", utc);
    put_without_date(r);
    const long at = ftell(r->out) + 1;
    fprintf(r->out, "\n%ld 0 obj\n<< /Title ", number);
    put_pdf_text(r->title, r->out);
    fputs(" /Subject ", r->out);
    put_pdf_text(r->description, r->out);
    fprintf(r->out, " /Creator (stallwright %s) /CreationDate (D:%s) >>\nendobj\n", sw_version(), date);
    const long table = ftell(r->out);
    fprintf(r->out, "xref\n%ld 1\n%010ld 00000 n \ntrailer\n<< /Size %ld /Root %ld 0 R /Info %ld 0 R /Prev %ld >>\nstartxref\n%ld\n%%%%EOF\n",
            number, at, atol(size + 6), atol(catalog + 6), number, atol(start + strlen("startxref")), table);
    return true;
}

/* ---- the file ---- */

/* Now, or the moment that the environment sets for files that are to be the same when they are made again. */
static int moment_of_making(struct tm *utc)
{
    sw_context *context = NULL;
    int64_t seconds = 0;
    const sw_status status = sw_context_create(&context) == SW_OK ? sw_moment_of_making(context, &seconds) : SW_ERR_MEMORY;
    if (status != SW_OK)
        print_error("%s", context ? sw_context_message(context) : sw_status_text(status));
    sw_context_destroy(context);
    const time_t moment = (time_t)seconds;
    return status == SW_OK && gmtime_r(&moment, utc) ? EXIT_DONE : status == SW_ERR_ARGUMENT ? EXIT_BAD_USE : EXIT_FAILED;
}

static char *read_whole(const char *path, size_t *length)
{
    FILE *in = fopen(path, "rb");
    char *bytes = NULL;
    if (in && fseek(in, 0, SEEK_END) == 0 && ftell(in) > 0) {
        *length = (size_t)ftell(in);
        rewind(in);
        bytes = malloc(*length + 1);
        if (bytes && fread(bytes, 1, *length, in) != *length) {
            free(bytes);
            bytes = NULL;
        }
        if (bytes)
            bytes[*length] = '\0';
    }
    if (in)
        fclose(in);
    return bytes;
}

int picture_file_describe(const output_file *file, picture_kind kind, const char *title, const char *description, int dots_per_inch)
{
    struct tm utc;
    int status = moment_of_making(&utc);
    if (status != EXIT_DONE)
        return status;
    rewriting r = {.title = title, .description = description, .dots_per_inch = dots_per_inch};
    char *bytes = read_whole(file->temporary, &r.length);
    r.bytes = bytes;
    r.out = bytes ? fopen(file->temporary, "wb") : NULL;
    bool is_known = false, is_written = false;
    if (r.out) {
        is_known = kind == PICTURE_SVG ? describe_svg(&r) : kind == PICTURE_PNG ? describe_png(&r) : describe_pdf(&r, &utc);
        if (!is_known)
            fwrite(r.bytes, 1, r.length, r.out);
        is_written = !ferror(r.out);
        is_written = fclose(r.out) == 0 && is_written;
    }
    free(bytes);
    if (!is_written) {
        print_error("the picture \"%s\" could not be written whole: is the disk full?", file->path);
        return EXIT_FAILED;
    }
    if (!is_known)
        fprintf(stderr, "stallwright: note: \"%s\" is of a form that takes no title from this program\n", file->path);
    return EXIT_DONE;
}
