"""The part of tests/mutants.sh that reads the table: chooses mutants, and puts one into a source.

    mutants.py choose TABLE COUNT SEED     the chosen numbers, one a line, with file and test programs
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


def choose(table, count, seed):
    numbers = list(range(len(table)))
    if count < len(numbers):
        numbers = sorted(random.Random(seed).sample(numbers, count))
    for number in numbers:
        file = table[number][0]
        module = file.split("/")[1]
        print(number, file, ",".join(ALSO_TESTED_BY.get(module, [module])))


def apply(table, number, root):
    file, before, after = table[number]
    text = open(root + "/" + file, encoding="utf-8").read()
    if text.count(before) != 1:
        sys.exit("%s: this text is there %d times, not once: %s" % (file, text.count(before), before))
    open(root + "/" + file, "w", encoding="utf-8").write(text.replace(before, after))


if __name__ == "__main__":
    rows = read_table(sys.argv[2])
    if sys.argv[1] == "choose":
        choose(rows, int(sys.argv[3]), int(sys.argv[4]))
    else:
        apply(rows, int(sys.argv[3]), sys.argv[4])
