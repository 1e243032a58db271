#include "run.h"

int main(int argc, char** argv) {
    return shedbook::run(argc, argv);
}
