/** What a body is filled with. */
export interface Pick {
  /** Of the function, `uint32_t NAME(uint32_t x)`. */
  readonly name: string;
  readonly below: (limit: number) => number;
  /** An unsigned 32-bit constant. */
  readonly constant: () => string;
  readonly word: () => string;
}

/** Text of a static C function; `CALL` stands for a statement that changes the local variable `h`. */
export type Body = (pick: Pick) => string;

const list = (count: number, item: () => string | number): string =>
  Array.from({ length: count }, item).join(', ');

const mix: Body = ({ name, below, constant }) => `static uint32_t ${name}(uint32_t x)
{
  uint32_t h = x ^ ${constant()};
  for (uint32_t i = 0; i < ${8 + below(40)}u; i++) {
    h = (h << ${5 + below(20)}) ^ (h >> ${3 + below(10)});
    h += i * ${constant()};
    if ((h & ${1 + below(15)}u) == 0u)
      h ^= ${constant()};
    else
      h -= x >> (i & 15u);
  }
  CALL
  return h;
}
`;

const lookup: Body = ({ name, below }) => `static uint32_t ${name}(uint32_t x)
{
  static const uint16_t table[16] = { ${list(16, () => below(65536))} };
  uint32_t h = x | 1u;
  for (uint32_t i = 0; i < ${6 + below(30)}u; i++)
    h = h * 31u + table[(h >> ${4 + below(20)}) & 15u];
  CALL
  return h ^ (h >> 16);
}
`;

const machine: Body = ({ name, below, constant }) => `static uint32_t ${name}(uint32_t x)
{
  uint32_t state = x % 5u;
  uint32_t h = ${constant()};
  for (uint32_t step = 0; step < ${10 + below(30)}u; step++) {
    switch (state) {
    case 0u:
      h += x;
      state = (h & 1u) + 1u;
      break;
    case 1u:
      h ^= h << ${1 + below(12)};
      state = (h >> 7) % 5u;
      break;
    case 2u:
      h = h * ${constant()} + ${below(1000)}u;
      state = 4u;
      break;
    case 3u:
      h = ~h;
      state = x & 1u;
      break;
    default:
      h ^= h >> ${1 + below(12)};
      state = h % 4u;
      break;
    }
  }
  CALL
  return h;
}
`;

const sort: Body = ({ name, below, constant }) => {
  const count = 12 + below(20);
  return `static uint32_t ${name}(uint32_t x)
{
  uint32_t items[${count}];
  uint32_t h = x;
  for (uint32_t i = 0; i < ${count}u; i++) {
    h = h * 1664525u + ${constant()};
    items[i] = h >> 8;
  }
  for (uint32_t i = 1; i < ${count}u; i++) {
    uint32_t item = items[i];
    uint32_t at = i;
    while (at > 0 && items[at - 1u] > item) {
      items[at] = items[at - 1u];
      at--;
    }
    items[at] = item;
  }
  for (uint32_t i = 0; i < ${count}u; i++)
    h = (h ^ items[i]) * ${1 + 2 * below(500)}u;
  CALL
  return h;
}
`;
};

const records: Body = ({ name, below, word }) => {
  const type = `${word()}_${name}`;
  const count = 4 + below(12);
  return `struct ${type} {
  uint32_t id;
  uint16_t stock;
  uint8_t shelf;
};

static uint32_t ${name}(uint32_t x)
{
  struct ${type} parts[${count}];
  uint32_t h = 0;
  for (uint32_t i = 0; i < ${count}u; i++) {
    parts[i].id = x + i * ${1 + below(900)}u;
    parts[i].stock = (uint16_t)(parts[i].id >> ${below(8)});
    parts[i].shelf = (uint8_t)(i ^ x);
  }
  for (uint32_t i = 0; i < ${count}u; i++) {
    const struct ${type} *part = &parts[(i + x) % ${count}u];
    if (part->stock > ${below(60000)}u)
      h += part->id;
    else
      h ^= (uint32_t)part->shelf << ${below(24)};
  }
  CALL
  return h;
}
`;
};

const matrix: Body = ({ name, below, constant }) => {
  const side = 3 + below(5);
  return `static uint32_t ${name}(uint32_t x)
{
  uint32_t a[${side}][${side}];
  uint32_t b[${side}][${side}];
  uint32_t h = ${constant()};
  for (uint32_t i = 0; i < ${side}u; i++)
    for (uint32_t j = 0; j < ${side}u; j++) {
      a[i][j] = x + i * ${below(100)}u + j;
      b[i][j] = (x >> j) ^ i;
    }
  for (uint32_t i = 0; i < ${side}u; i++)
    for (uint32_t j = 0; j < ${side}u; j++) {
      uint32_t sum = 0;
      for (uint32_t k = 0; k < ${side}u; k++)
        sum += a[i][k] * b[k][j];
      h = (h << 3 | h >> 29) ^ sum;
    }
  CALL
  return h;
}
`;
};

const text: Body = ({ name, below, word }) => `static uint32_t ${name}(uint32_t x)
{
  static const char phrase[] = "${Array.from({ length: 6 + below(10) }, word).join(' ')}";
  uint32_t h = x;
  uint32_t count = 0;
  for (uint32_t i = 0; i < sizeof phrase - 1u; i++) {
    uint32_t letter = (uint32_t)(unsigned char)phrase[i];
    if (letter == 32u) {
      count++;
      h ^= h >> ${3 + below(12)};
    } else {
      h = h * 33u + letter;
    }
  }
  CALL
  return h + count;
}
`;

const recursion: Body = ({ name, below, constant }) => `static uint32_t ${name}_part(uint32_t n)
{
  if (n < 2u)
    return ${constant()};
  return ${name}_part(n / 2u) * ${3 + 2 * below(50)}u + ${name}_part(n / 3u);
}

static uint32_t ${name}(uint32_t x)
{
  uint32_t h = ${name}_part(x & ${below(2) === 0 ? 63 : 127}u) ^ x;
  CALL
  return h;
}
`;

const search: Body = ({ name, below }) => `static uint32_t ${name}(uint32_t x)
{
  uint32_t low = 0;
  uint32_t high = ${1000 + below(60000)}u;
  uint32_t wanted = x % high;
  uint32_t h = 0;
  while (low < high) {
    uint32_t middle = low + (high - low) / 2u;
    h = h * ${3 + 2 * below(60)}u + middle;
    if (middle < wanted)
      low = middle + 1u;
    else
      high = middle;
  }
  CALL
  return h ^ low;
}
`;

const divisor: Body = ({ name, below, constant }) => `static uint32_t ${name}(uint32_t x)
{
  uint32_t a = x | ${constant()};
  uint32_t b = ${1 + below(60000)}u;
  uint32_t h = 0;
  while (b != 0u) {
    uint32_t rest = a % b;
    a = b;
    b = rest;
    h = h * ${3 + 2 * below(60)}u + rest;
  }
  CALL
  for (uint32_t bits = h; bits != 0u; bits &= bits - 1u)
    a++;
  return h ^ a;
}
`;

export const bodies: readonly Body[] = [
  mix,
  lookup,
  machine,
  sort,
  records,
  matrix,
  text,
  recursion,
  search,
  divisor,
];
