// A place between two moments of the plan, and what is known of it.

/** What is known at a place; figures, temperature and time are on the straight way between the moments. */
export function at(picture, place) {
  const before = Math.min(Math.floor(place), picture.moments - 1);
  const after = Math.min(before + 1, picture.moments - 1);
  const share = place - before;
  const mixed = (values, width = 1, n = 0) =>
    values[before * width + n] * (1 - share) + values[after * width + n] * share;
  const names = picture.axis.figures;
  const laid = picture.laid[before];
  return {
    place, before, after, share, laid,
    time: mixed(picture.time),
    hottest: mixed(picture.hottest),
    figures: names.map((_, n) => mixed(picture.figures, names.length, n)),
    turn: turnBetween(picture.turn[before], picture.turn[after], share),
    bead: picture.bead[before],
    burning: share > 0 && picture.doing_words[picture.doing[after]] === "arc stops",
  };
}

// The short way round.
function turnBetween(from, to, share) {
  const way = ((((to - from) % 360) + 540) % 360) - 180;
  return from + way * share;
}

/** Number of the moment at which each bead starts. */
export function starts(picture) {
  const number = picture.doing_words.indexOf("arc starts");
  const found = [];
  picture.doing.forEach((doing, n) => {
    if (doing === number) found.push(n);
  });
  return found;
}

/** Both ends of the colour scale in the shop's degrees: whole tens, and above the hottest spot before a bead. */
export function scaleOf(picture, words) {
  const spot = Math.max(...picture.beads.map((bead) => bead.spot_c));
  const low = Math.floor(words.degrees(picture.ambient_c) / 10) * 10;
  const wanted = Math.max(words.degrees(spot), words.degrees(picture.ambient_c + 60)) - low;
  const step = [20, 25, 40, 50, 75, 100, 150, 200].find((size) => 4 * size >= wanted) ?? 250;
  return { low, step, high: low + 4 * step };
}
