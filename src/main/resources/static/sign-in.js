// Works out the sum that a guess costs after many wrong ones: a number for which SHA-256(id + ":" + number) begins with
// so many zero bits. Written out here because the browser's own SHA-256 is missing on plain http, where tablets are.

const K = new Uint32Array(64);
const START = new Uint32Array(8);
{
  // the constants of FIPS 180-4, 4.2.2 and 5.3.3: fractions of cube and square roots of the first primes
  const fraction = (x) => ((x - Math.floor(x)) * 0x100000000) | 0;
  let found = 0;
  for (let n = 2; found < 64; n++) {
    let prime = true;
    for (let d = 2; d * d <= n; d++) {
      if (n % d === 0) { prime = false; break; }
    }
    if (prime) {
      if (found < 8) START[found] = fraction(Math.sqrt(n));
      K[found++] = fraction(Math.cbrt(n));
    }
  }
}

const words = new Uint32Array(64);

/** The first word of the SHA-256 of a text of at most 55 ASCII characters, and the second. */
function firstWords(text) {
  words.fill(0, 0, 16);
  for (let i = 0; i < text.length; i++) words[i >> 2] |= text.charCodeAt(i) << (24 - 8 * (i & 3));
  words[text.length >> 2] |= 0x80 << (24 - 8 * (text.length & 3));
  words[15] = text.length * 8;
  for (let i = 16; i < 64; i++) {
    const a = words[i - 15];
    const b = words[i - 2];
    const s0 = ((a >>> 7) | (a << 25)) ^ ((a >>> 18) | (a << 14)) ^ (a >>> 3);
    const s1 = ((b >>> 17) | (b << 15)) ^ ((b >>> 19) | (b << 13)) ^ (b >>> 10);
    words[i] = words[i - 16] + s0 + words[i - 7] + s1;
  }
  let [a, b, c, d, e, f, g, h] = START;
  for (let i = 0; i < 64; i++) {
    const s1 = ((e >>> 6) | (e << 26)) ^ ((e >>> 11) | (e << 21)) ^ ((e >>> 25) | (e << 7));
    const t1 = (h + s1 + ((e & f) ^ (~e & g)) + K[i] + words[i]) | 0;
    const s0 = ((a >>> 2) | (a << 30)) ^ ((a >>> 13) | (a << 19)) ^ ((a >>> 22) | (a << 10));
    const t2 = (s0 + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    h = g; g = f; f = e; e = (d + t1) | 0; d = c; c = b; b = a; a = (t1 + t2) | 0;
  }
  return [(a + START[0]) >>> 0, (b + START[1]) >>> 0];
}

const given = [...document.querySelectorAll("input[name=puzzle]")];
const said = document.getElementById("puzzle-state");
const id = given[0].value;
const bits = Number(given[0].dataset.bits);
let solved = false;
let waiting = null;

function say(text) {
  if (said) said.textContent = text;
}

function done(number) {
  solved = true;
  for (const field of document.querySelectorAll("input[name=puzzle-number]")) field.value = String(number);
  say("Ready.");
  if (waiting) waiting.requestSubmit();
}

function work(from) {
  const until = performance.now() + 40; // short turns, so that typing stays smooth
  let n = from;
  do {
    for (let i = 0; i < 500; i++, n++) {
      const [first] = firstWords(id + ":" + n);
      if (Math.clz32(first) >= bits) return done(n);
    }
  } while (performance.now() < until);
  setTimeout(() => work(n), 0);
}

for (const field of given) {
  field.form.addEventListener("submit", (event) => {
    if (!solved) {
      event.preventDefault();
      waiting = field.form;
      say("Still working; it goes on by itself.");
    }
  });
}
say("Working…");
work(0);
