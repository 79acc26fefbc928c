// Lengths, angles and formulas of a toy file, read anew: nothing here comes from
// the engine that is being checked. A value is {kind, n}: bare (a number without
// unit), number, length (mm) or angle (radians).

const MM = { in: 25.4, '"': 25.4, '″': 25.4, mm: 1, cm: 10 }; // 1959 agreement: 25.4 mm exactly
const TURN = { '°': Math.PI / 180, deg: Math.PI / 180, rad: 1 };
const UNIT = /^\s*(?:(in|mm|cm|deg|rad)(?![\p{L}\d_])|(["″°]))/u;
const NAME = /^\p{L}[\p{L}\d_]*(?:-[\p{L}\d_]+)*(?:\.\p{L}[\p{L}\d_]*(?:-[\p{L}\d_]+)*)?/u;

export const length = (mm) => ({ kind: 'length', n: mm });

// evaluate works a formula out; scope(name) gives the value of a name, unit is
// what one bare number is in mm.
export function evaluate(text, scope, unit) {
  let rest = String(text).trim();
  const fail = (why) => { throw new Error(`${JSON.stringify(text)}: ${why} at ${JSON.stringify(rest)}`); };
  const take = (pattern) => {
    const m = pattern.exec(rest);
    if (m) rest = rest.slice(m[0].length);
    return m;
  };

  function number(divisor) {
    let m, n;
    if (!divisor && (m = take(/^(\d+)\s+(\d+)\/(\d+)(?![.\d])/))) n = +m[1] + m[2] / m[3];
    else if (!divisor && (m = take(/^(\d+)-(\d+)\/(\d+)(?=\s*(?:(?:in|mm|cm)(?![\p{L}\d_])|["″]))/u))) n = +m[1] + m[2] / m[3];
    else if (!divisor && (m = take(/^(\d+)\/(\d+)(?![.\d])/))) n = m[1] / m[2];
    else if ((m = take(/^(?:\d+(?:\.\d+)?|\.\d+)/))) n = +m[0];
    else fail('no number');
    const u = take(UNIT);
    if (!u) return { kind: 'bare', n };
    const word = u[1] ?? u[2];
    return word in MM ? length(n * MM[word]) : { kind: 'angle', n: n * TURN[word] };
  }

  function factor(divisor) {
    rest = rest.trimStart();
    if (take(/^[-−]/)) {
      const v = factor(divisor);
      return { kind: v.kind, n: -v.n };
    }
    if (take(/^\(/)) {
      const v = sum();
      if (!take(/^\s*\)/)) fail('no closing parenthesis');
      return v;
    }
    const word = take(NAME)?.[0];
    if (!word) return number(divisor);
    if ((word === 'min' || word === 'max') && take(/^\s*\(/)) {
      let v = sum();
      while (take(/^\s*,/)) v = alike(v, sum(), Math[word]);
      if (!take(/^\s*\)/)) fail('no closing parenthesis');
      return v;
    }
    return scope(word) ?? fail(`${word} is not known`);
  }

  function product() {
    let a = factor(false);
    for (let m; (m = take(/^\s*([*×\/÷])/)); ) {
      const divide = '/÷'.includes(m[1]);
      const b = factor(divide);
      if (!divide) a = { kind: a.kind === 'bare' || a.kind === 'number' ? (b.kind === 'bare' ? a.kind : b.kind) : a.kind, n: a.n * b.n };
      else a = { kind: a.kind === b.kind && a.kind !== 'bare' || b.kind === 'number' && a.kind === 'bare' ? 'number' : a.kind, n: a.n / b.n };
    }
    return a;
  }

  function alike(a, b, f) {
    const kind = a.kind === 'bare' ? b.kind : a.kind;
    const n = (v) => (v.kind === 'bare' && kind === 'length' ? v.n * unit : v.n);
    if (kind === 'angle' && a.kind !== b.kind) fail('an angle and a bare number');
    return { kind, n: f(n(a), n(b)) };
  }

  function sum() {
    let a = product();
    for (let m; (m = take(/^\s*([-+−])/)); ) a = alike(a, product(), m[1] === '+' ? (x, y) => x + y : (x, y) => x - y);
    return a;
  }

  const v = sum();
  if (rest.trim()) fail('something is left over');
  if (!Number.isFinite(v.n)) fail('not finite');
  return v;
}
