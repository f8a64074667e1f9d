/* SPDX-License-Identifier: BSD-3-Clause */
#include "output_file.h"

#include "options.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static int cannot_write(const char *path)
{
    print_error("\"%s\" cannot be written: %s", path, strerror(errno));
    return EXIT_FAILED;
}

int output_file_check(const char *path, bool force)
{
    struct stat about;
    char folder[OUTPUT_PATH_SIZE];
    if (stat(path, &about) == 0 && S_ISDIR(about.st_mode)) {
        print_error("\"%s\" is a directory, not a file to write to", path);
        return EXIT_FAILED;
    }
    if (!force && lstat(path, &about) == 0) {
        print_error("\"%s\" exists already; give --force to replace it", path);
        return EXIT_BAD_USE;
    }
    /* The temporary name is longer by ".part". */
    if (strlen(path) + 6 > sizeof folder) {
        print_error("the path \"%.60s...\" is too long", path);
        return EXIT_BAD_USE;
    }
    const char *slash = strrchr(path, '/');
    snprintf(folder, sizeof folder, "%.*s", slash ? (int)(slash - path) + 1 : 1, slash ? path : ".");
    return access(folder, W_OK | X_OK) == 0 ? EXIT_DONE : cannot_write(path);
}

/* Never through a link or over another run's file. */
static int open_temporary(output_file *file, const char *beginning, bool force)
{
    sw_context *context;
    if (sw_context_create(&context) != SW_OK) {
        print_error("\"%s\" cannot be written: %s", file->path, sw_status_text(SW_ERR_MEMORY));
        return EXIT_FAILED;
    }
    sw_status opened = sw_part_file_open(context, "the file", file->path, file->temporary, beginning, force, &file->descriptor);
    if (opened != SW_OK)
        print_error("%s", sw_context_message(context));
    sw_context_destroy(context);
    return opened == SW_OK ? EXIT_DONE : EXIT_FAILED;
}

int output_file_begin(output_file *file, const char *path, const char *beginning, bool force)
{
    int status = output_file_check(path, force);
    if (status != EXIT_DONE)
        return status;
    file->path = path;
    snprintf(file->temporary, sizeof file->temporary, "%.*s.part", OUTPUT_PATH_SIZE - 6, path);
    return open_temporary(file, beginning, force);
}

void output_file_abandon(output_file *file)
{
    unlink(file->temporary);
    close(file->descriptor);
}

int output_file_finish(output_file *file)
{
    if (rename(file->temporary, file->path) == 0) {
        close(file->descriptor);
        return EXIT_DONE;
    }
    int status = cannot_write(file->path);
    output_file_abandon(file);
    return status;
}

int flush_standard_output(void)
{
    errno = 0;
    if (fflush(stdout) == 0 && !ferror(stdout))
        return EXIT_DONE;
    /* A write that failed earlier took its reason with it; one more meets it again. */
    if (errno == 0 && putchar('\n') != EOF)
        fflush(stdout);
    print_error("standard output cannot be written: %s", errno ? strerror(errno) : "an earlier write failed");
    return EXIT_FAILED;
}

int close_standard_output(void)
{
    if (fclose(stdout) == 0)
        return EXIT_DONE;
    print_error("standard output cannot be closed: %s", strerror(errno));
    return EXIT_FAILED;
}
