"""The part of tests/mutants.sh that reads the table: chooses mutants, and puts one into a source.

    mutants.py choose TABLE [WHICH...]     the chosen numbers, one a line, with file and test programs; the words as
                                           for tests/mutants.sh
    mutants.py apply TABLE NUMBER ROOT     changes that file under ROOT; says so if the text is not there once
"""
import random
import sys

# Where a fault of a module shows first, if not in the module's own tests.
ALSO_TESTED_BY = {"job": ["job", "cli"], "report": ["report", "cli"], "io": ["io", "chart"]}


def read_table(path):
    out, lines = [], []
    for line in open(path, encoding="utf-8").read().split("\n") + [""]:
        if line.startswith("#"):
            continue
        if line.strip():
            lines.append(line)
        elif lines:
            if len(lines) != 3 or lines[1][:2] != "- " or lines[2][:2] != "+ ":
                sys.exit("mutants.txt: not a file and two lines: " + lines[0])
            out.append((lines[0], lines[1][2:], lines[2][2:]))
            lines = []
    return out


def module_of(row):
    return row[0].split("/")[1]


# "rows 2 14", "first-of base theory", "5 7" (count and seed); no word: all.
def wanted(table, words):
    everything = range(len(table))
    if not words:
        return list(everything)
    if words[0] == "rows":
        numbers = [int(word) for word in words[1:]]
        unknown = [number for number in numbers if number not in everything]
        if unknown or not numbers:
            sys.exit("mutants.txt: the rows are 0 to %d" % (len(table) - 1))
        return numbers
    if words[0] == "first-of":
        modules = [module_of(row) for row in table]
        unknown = [word for word in words[1:] if word not in modules]
        if unknown or not words[1:]:
            sys.exit("mutants.txt: no fault of a module is listed for: " + " ".join(words[1:]))
        return [modules.index(word) for word in words[1:]]
    count, seed = int(words[0]), int(words[1]) if len(words) > 1 else 1
    return sorted(random.Random(seed).sample(everything, min(count, len(table))))


def choose(table, words):
    for number in wanted(table, words):
        module = module_of(table[number])
        print(number, table[number][0], ",".join(ALSO_TESTED_BY.get(module, [module])))


def apply(table, number, root):
    file, before, after = table[number]
    text = open(root + "/" + file, encoding="utf-8").read()
    if text.count(before) != 1:
        sys.exit("%s: this text is there %d times, not once: %s" % (file, text.count(before), before))
    open(root + "/" + file, "w", encoding="utf-8").write(text.replace(before, after))


if __name__ == "__main__":
    rows = read_table(sys.argv[2])
    if sys.argv[1] == "choose":
        choose(rows, sys.argv[3:])
    else:
        apply(rows, int(sys.argv[3]), sys.argv[4])
