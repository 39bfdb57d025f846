# Builds PARTS programs from the one file source.c, each as an object file and then linked, as `make -j` builds a
# project of as many files. Compiling the same text several times keeps the parts equally long.
PARTS ?= 1
CFLAGS ?= -O2
programs := $(patsubst %,part-%,$(shell seq $(PARTS)))

all: $(programs)

part-%: part-%.o
	gcc $(CFLAGS) -o $@ $<

part-%.o: source.c
	gcc $(CFLAGS) -c -o $@ $<

# Every part must print what a build without optimisation prints.
check: $(programs)
	for program in $(programs); do ./$$program > $$program.txt && cmp $$program.txt plain.txt || exit 1; done

.PHONY: all check
.SECONDARY:
