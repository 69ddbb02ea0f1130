// How the picture follows the axis: whole cross-sections move with it and keep their form.
// Places are (x to the driver's left, y forward, z up) in metres, as everywhere in axlewright.

/** Stations at equal distances that the axis is read at. */
const STATIONS = 32;

const TWIST = 6; // place of the twist among the figures of a moment

/** The axis at a place between two moments, as [height, slope of it, ahead, slope of it] at each station [m, 1]. */
export class Axis {
  constructor(picture) {
    this.picture = picture;
    const stations = picture.axis.stations_m;
    this.left = stations[0];
    this.right = stations[stations.length - 1];
    this.rows = new Float32Array(4 * STATIONS);
    this.twist = 0;
  }

  /** Moves to a place between two moments, everything `times` as large as it is. */
  moveTo(place, times) {
    const { vertical, fore_aft: foreAft, axis, figures, moments } = this.picture;
    const before = Math.min(Math.floor(place), moments - 1);
    const after = Math.min(before + 1, moments - 1);
    const share = place - before;
    const count = axis.stations_m.length;
    const at = (values, n) =>
      times * axis.step_m * (values[before * count + n] * (1 - share) + values[after * count + n] * share);
    const step = (this.right - this.left) / (STATIONS - 1);
    for (const [column, values] of [[0, vertical], [2, foreAft]]) {
      const own = axis.stations_m.map((_, n) => at(values, n));
      for (let k = 0; k < STATIONS; k += 1) this.rows[4 * k + column] = between(axis.stations_m, own, this.left + k * step);
      for (let k = 0; k < STATIONS; k += 1) {
        const [low, high] = [Math.max(k - 1, 0), Math.min(k + 1, STATIONS - 1)];
        this.rows[4 * k + column + 1] = (this.rows[4 * high + column] - this.rows[4 * low + column]) / ((high - low) * step);
      }
    }
    const width = axis.figures.length;
    const turned = figures[before * width + TWIST] * (1 - share) + figures[after * width + TWIST] * share;
    this.twist = times * turned * (Math.PI / 180);
  }

  /** Where a place of the undistorted housing is drawn. */
  bent(x, y, z) {
    const target = new Float32Array(3);
    this.bend(this.placed([x, y, z]), target);
    return target;
  }

  /** Places of the undistorted housing, made ready to be bent again and again. */
  placed(places) {
    const count = places.length / 3;
    const [station, share] = [new Uint8Array(count), new Float32Array(count)];
    for (let n = 0; n < count; n += 1) {
      const along = Math.min(Math.max((places[3 * n] - this.left) / (this.right - this.left), 0), 1) * (STATIONS - 1);
      station[n] = Math.min(Math.floor(along), STATIONS - 2);
      share[n] = along - station[n];
    }
    return { places, station, share };
  }

  /** Bends places into an array of the same size. */
  bend({ places, station, share }, target) {
    const { rows, twist } = this;
    for (let n = 0, i = 0; n < station.length; n += 1, i += 3) {
      const [k, after] = [4 * station[n], share[n]];
      const before = 1 - after;
      const height = rows[k] * before + rows[k + 4] * after;
      const climb = rows[k + 1] * before + rows[k + 5] * after;
      const ahead = rows[k + 2] * before + rows[k + 6] * after;
      const lead = rows[k + 3] * before + rows[k + 7] * after;
      const roll = twist * (0.5 - (station[n] + after) / (STATIONS - 1));
      const [y, z] = [places[i + 1], places[i + 2]];
      target[i] = places[i] - y * lead - z * climb;
      target[i + 1] = y + ahead - roll * z;
      target[i + 2] = z + height + roll * y;
    }
  }
}

// Stations run from the left flange (largest x) to the right one.
function between(stations, values, x) {
  let n = 1;
  while (n < stations.length - 1 && stations[n] > x) n += 1;
  const share = Math.min(Math.max((x - stations[n - 1]) / (stations[n] - stations[n - 1]), 0), 1);
  return values[n - 1] + share * (values[n] - values[n - 1]);
}
