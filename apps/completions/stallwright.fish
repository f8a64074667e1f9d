# SPDX-License-Identifier: BSD-3-Clause
# Completion for fish: asks the program what could come next.
function __stallwright_candidates
    set -l words (commandline -opc)
    set -l typed (commandline -ct)
    for candidate in ($words[1] --complete $words[2..-1] "$typed" 2>/dev/null)
        if string match -q '<file>*' -- $candidate
            set -l endings (string split -n ' ' -- (string replace '<file>' '' -- $candidate))
            if test (count $endings) -eq 0
                __fish_complete_path "$typed"
            end
            for ending in $endings
                __fish_complete_suffix $ending
            end
        else
            echo $candidate
        end
    end
end
complete -c stallwright -f -a '(__stallwright_candidates)'
