/**
 * The complementary error function, to 1e-13 of its value.
 */

const SERIES_BELOW = 1.75; // beyond it 1 - erf loses digits, and the fraction is quick
const FRACTION_TERMS = 60; // at 1.75 the last of them changes nothing

/** 1 - erf(x), for any x. */
export function erfc(x) {
  if (x < 0) return 2 - erfc(-x);
  return x < SERIES_BELOW ? 1 - series(x) : fraction(x);
}

/** erf by NIST DLMF 7.6.2, all of whose terms are positive. */
function series(x) {
  let term = x;
  let sum = 0;
  for (let n = 0; sum + term !== sum; n += 1) {
    sum += term;
    term *= (2 * x * x) / (2 * n + 3);
  }
  return (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
}

/** erfc by the continued fraction NIST DLMF 7.9.1, from its end. */
function fraction(x) {
  let below = x;
  for (let n = FRACTION_TERMS; n > 0; n -= 1) below = x + n / 2 / below;
  return Math.exp(-x * x) / (Math.sqrt(Math.PI) * below);
}
