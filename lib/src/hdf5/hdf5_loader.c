/* SPDX-License-Identifier: BSD-3-Clause */
#include "hdf5_functions.h"

#include "memory_at_hand.h"

#include <stallwright/version.h>

#include <dlfcn.h>
#include <limits.h>
#include <link.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* HDF5 crashes where some of its allocations fail. What it takes beside the figures themselves, some times over [bytes]. */
static const size_t hdf5_room = (size_t)32 << 20;

/* Set once, by whichever thread comes first; then never changed. */
static pthread_once_t once = PTHREAD_ONCE_INIT;
static const sw_hdf5_functions *module;
static char failure[256];

#ifdef SW_MODULE_FILE

/* The file this very code was loaded from: a shared library, or the program it is part of, links followed. */
static bool find_own_file(char path[PATH_MAX], bool *is_library)
{
    Dl_info about;
    void *map = NULL;
    if (dladdr1(&once, &about, &map, RTLD_DL_LINKMAP) == 0 || !map)
        return false;
    const char *name = ((const struct link_map *)map)->l_name; /* empty for the program */
    *is_library = *name != '\0';
    return realpath(*is_library ? name : "/proc/self/exe", path) != NULL;
}

static void *open_in(const char *folder, const char *file)
{
    char path[PATH_MAX];
    const int written = snprintf(path, sizeof path, "%s/%s", folder, file);
    return *folder == '/' && written < (int)sizeof path ? dlopen(path, RTLD_NOW | RTLD_LOCAL) : NULL;
}

/* Where the module lies as seen from there, built and installed: a folder that was moved still finds its own. Returns NULL
 * if the system does not say where that is. */
static void *open_beside(void)
{
    char path[PATH_MAX];
    bool is_library;
    if (!find_own_file(path, &is_library))
        return NULL;
    *strrchr(path, '/') = '\0';
    return open_in(path, is_library ? "stallwright/" SW_MODULE_FILE : "../" SW_MODULE_FOLDER "/" SW_MODULE_FILE);
}

/* On the run path of the program, for those of others with the static library, and where else programs look for libraries. By
 * hand, since the sanitizers put a dlopen of their own before that of the system, which then takes them for the program. */
static void *open_on_run_path(void)
{
    void *program = dlopen(NULL, RTLD_LAZY), *library = NULL;
    Dl_serinfo size;
    if (!program || dlinfo(program, RTLD_DI_SERINFOSIZE, &size) != 0)
        return NULL;
    Dl_serinfo *folders = malloc(size.dls_size);
    if (folders) {
        *folders = size;
        const unsigned count = dlinfo(program, RTLD_DI_SERINFO, folders) == 0 ? folders->dls_cnt : 0;
        for (unsigned i = 0; i < count && !library; i++)
            library = open_in(folders->dls_serpath[i].dls_name, SW_MODULE_FILE);
    }
    free(folders);
    dlclose(program);
    return library;
}

/* Beside what asks for it, on the run path, where it was to be installed. */
static void *open_module(void)
{
    void *library = open_beside();
    if (!library)
        library = open_on_run_path();
    return library ? library : open_in(SW_MODULE_FULL_FOLDER, SW_MODULE_FILE);
}

static void load(void)
{
    void *library = open_module();
    const sw_hdf5_functions *found = library ? dlsym(library, "sw_hdf5_module") : NULL;
    if (!found) {
        const char *why = dlerror();
        snprintf(failure, sizeof failure, "the module for HDF5 cannot be loaded: %.200s", why ? why : "no reason is given");
    } else if (strcmp(found->version(), sw_version()) != 0) {
        snprintf(failure, sizeof failure, "the module for HDF5 is of version %.40s, not %s", found->version(), sw_version());
    } else {
        found->set_allocator(sw_allocator_used());
        module = found;
    }
}

#else

static void load(void)
{
    snprintf(failure, sizeof failure, "this stallwright was built without HDF5 (SW_HDF5=OFF)");
}

#endif

const char *sw_hdf5_version(void)
{
#ifdef SW_MODULE_FILE
    return SW_HDF5_VERSION;
#else
    return "none";
#endif
}

sw_hdf5_building sw_hdf5_build(int descriptor,
                               void (*fill)(sw_hdf5_writer *writer, sw_hdf5_object root, const void *data),
                               const void *data)
{
    sw_hdf5_building building = {0};
    building.no_memory = !sw_memory_is_at_hand(hdf5_room);
    if (building.no_memory)
        return building;
    pthread_once(&once, load);
    if (module)
        return module->build(descriptor, fill, data);
    memcpy(building.failure, failure, sizeof building.failure);
    return building;
}

sw_hdf5_reading sw_hdf5_read(const char *path, void (*take)(sw_hdf5_reader *reader, sw_hdf5_object root, void *data),
                             void *data)
{
    sw_hdf5_reading reading = {0};
    reading.no_memory = !sw_memory_is_at_hand(hdf5_room);
    if (reading.no_memory)
        return reading;
    pthread_once(&once, load);
    if (module)
        return module->read(path, take, data);
    memcpy(reading.failure, failure, sizeof reading.failure);
    return reading;
}

/* All others are called within those two only, when the module is there. */
#define GIVES(type, name, parameters, arguments)                                                                         \
    type sw_hdf5_##name parameters                                                                                       \
    {                                                                                                                    \
        return module->name arguments;                                                                                   \
    }
#define DOES(name, parameters, arguments)                                                                                \
    void sw_hdf5_##name parameters                                                                                       \
    {                                                                                                                    \
        module->name arguments;                                                                                          \
    }
SW_HDF5_FUNCTION_LIST(GIVES, DOES)
#undef GIVES
#undef DOES
