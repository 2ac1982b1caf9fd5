/**
 * Monotone interpolation: a smooth curve through points that overshoots none of them.
 *
 * Piecewise cubic Hermite; the sources are in models/judging/pchip.py.
 */

/** The curve through [x, y] whose x rise: {x, y, slopes, value(at), slope(at)}. */
export function pchip(x, y) {
  const wide = x.slice(1).map((one, i) => one - x[i]);
  const secants = wide.map((h, i) => (y[i + 1] - y[i]) / h);
  const slopes = slopesOf(wide, secants);
  const place = (at) => {
    let i = 0;
    while (i < wide.length - 1 && x[i + 1] <= at) i += 1;
    return [i, (at - x[i]) / wide[i], wide[i]];
  };
  const value = (at) => {
    const [i, s, h] = place(at);
    const rest = 1 - s;
    return (
      (1 + 2 * s) * rest * rest * y[i] +
      s * rest * rest * h * slopes[i] +
      s * s * (3 - 2 * s) * y[i + 1] -
      s * s * rest * h * slopes[i + 1]
    );
  };
  const slope = (at) => {
    const [i, s] = place(at);
    return 6 * s * (1 - s) * secants[i] + (1 - s) * (1 - 3 * s) * slopes[i] + s * (3 * s - 2) * slopes[i + 1];
  };
  return { x, y, slopes, value, slope };
}

function slopesOf(h, m) {
  const last = m.length - 1;
  if (last === 0) return [m[0], m[0]];
  const inner = m.slice(1).map((one, i) => innerSlope(h[i], h[i + 1], m[i], one));
  return [endSlope(h[0], h[1], m[0], m[1]), ...inner, endSlope(h[last], h[last - 1], m[last], m[last - 1])];
}

/** The weighted harmonic mean of two secants; 0 at a peak or a level. */
function innerSlope(h0, h1, m0, m1) {
  if (m0 * m1 <= 0) return 0;
  const [w0, w1] = [2 * h1 + h0, h1 + 2 * h0];
  return (w0 + w1) / (w0 / m0 + w1 / m1);
}

/** The slope at an end by three points, held to the shape of the curve. */
function endSlope(h0, h1, m0, m1) {
  const slope = ((2 * h0 + h1) * m0 - h0 * m1) / (h0 + h1);
  if (slope * m0 <= 0) return 0;
  return m0 * m1 <= 0 && Math.abs(slope) > 3 * Math.abs(m0) ? 3 * m0 : slope;
}
