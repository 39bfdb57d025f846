/** True when a name fits a pattern in which `*` stands for any characters and `?` for one. Time: product of both lengths. */
export function fitsPattern(name: string, pattern: string): boolean {
  let at = 0;
  let place = 0;
  // Where the last star stood, and the character of the name that follows what it stands for so far.
  let star = -1;
  let resume = 0;
  while (at < name.length) {
    const wanted = pattern[place];
    if (wanted === '*') {
      star = place;
      resume = at;
      place += 1;
    } else if (wanted === '?' || wanted === name[at]) {
      at += 1;
      place += 1;
    } else if (star !== -1) {
      resume += 1;
      at = resume;
      place = star + 1;
    } else return false;
  }
  return /^\**$/.test(pattern.slice(place));
}
