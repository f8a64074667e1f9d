#include "output_file.h"

#include "options.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

bool output_file_begin(output_file *file, const char *path, bool force)
{
    struct stat about;
    file->path = path;
    if (stat(path, &about) == 0 && S_ISDIR(about.st_mode)) {
        print_error("\"%s\" is a directory, not a file to write to", path);
        return false;
    }
    if (!force && lstat(path, &about) == 0) {
        print_error("\"%s\" exists already; give --force to replace it", path);
        return false;
    }
    if (snprintf(file->temporary, sizeof file->temporary, "%s.part", path) >= (int)sizeof file->temporary) {
        print_error("the path \"%.60s...\" is too long", path);
        return false;
    }
    int descriptor = open(file->temporary, O_WRONLY | O_CREAT | O_TRUNC, 0666);
    if (descriptor < 0) {
        print_error("\"%s\" cannot be written: %s", path, strerror(errno));
        return false;
    }
    close(descriptor);
    return true;
}

void output_file_abandon(output_file *file)
{
    unlink(file->temporary);
}

bool output_file_finish(output_file *file)
{
    if (rename(file->temporary, file->path) == 0)
        return true;
    print_error("\"%s\" cannot be written: %s", file->path, strerror(errno));
    output_file_abandon(file);
    return false;
}

bool flush_standard_output(void)
{
    errno = 0;
    if (fflush(stdout) == 0 && !ferror(stdout))
        return true;
    print_error("standard output cannot be written: %s", errno ? strerror(errno) : "the output failed");
    return false;
}
