// What is planted in the invented figures: tests look whether the tool finds it. All of it made up.

/** How the campaign went: rigs in the order they were built, two sittings of each. */
export const visits = [
  { rig: 'first-8', assembly: 1, day: '2026-02-02' },
  { rig: 'second-8', assembly: 1, day: '2026-02-03' },
  { rig: 'second-16', assembly: 1, day: '2026-02-04' },
  { rig: 'first-16', assembly: 1, day: '2026-02-05' },
  { rig: 'first-8', assembly: 2, day: '2026-02-09' },
  { rig: 'first-16', assembly: 2, day: '2026-02-10' },
  { rig: 'second-16', assembly: 2, day: '2026-02-11' },
  { rig: 'second-8', assembly: 2, day: '2026-02-12' },
  { rig: 'first-8', assembly: 3, day: '2026-02-16' },
];

/** In the first of the two sittings of this visit the room was hot, and the processor slowed itself down. */
export const hotVisit = { rig: 'second-16', assembly: 2 };

/** Somebody updated the firmware of the first board before this rig was built, and put the old one back afterwards. */
export const updatedRig = 'first-16';

/** Figures of the baseline, in base units, and what multiplies them. Above 1 is better. */
export const figures = {
  compression: { base: 212e6, board: 1, memory: 1, both: 1, firmware: 1, hot: 0.97, drift: 1 },
  decompression: { base: 1.66e9, board: 1, memory: 1, both: 1, firmware: 1, hot: 1, drift: 0.97 },
  samples: { base: 1.05e6, board: 1.06, memory: 1, both: 1, firmware: 0.97, hot: 0.95, drift: 1 },
  records: { base: 604e3, board: 1.035, memory: 1, both: 1, firmware: 1, hot: 1, drift: 1 },
  copying: { base: 12.1e9, board: 1.02, memory: 1.09, both: 1.03, firmware: 1, hot: 1, drift: 1 },
};

/** Relative standard deviations within a sitting and between sittings. */
export const spread = { within: 0.004, between: 0.003 };

/** What multiplies a figure of a rig in a sitting, chance aside. `isLate`: the baseline, built again. */
export function plantedFactor(figure, { board, memory }, { isUpdated, isHot, isLate }) {
  const planted = figures[figure];
  const [second, large] = [board === 'second', memory === '2x16 GiB'];
  return (
    (second ? planted.board : 1) *
    (large ? planted.memory : 1) *
    (second && large ? planted.both : 1) *
    (isUpdated ? planted.firmware : 1) *
    (isHot ? planted.hot : 1) *
    (isLate ? planted.drift : 1)
  );
}
