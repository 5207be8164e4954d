// The measuring page: asks, checks, keeps the answers on this phone, and writes them into the rig file.
(function () {
  'use strict';
  // What stood before is named by its place in a packed text, see packed() in cardgen/render/site.py.
  function unpacked(text) {
    const digits = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789!#$%()*+,-./:;=?@[]_{|}';
    return text.split('~').reduce((made, part) => {
      const [a, b, c, size] = [...part.slice(0, 4)].map((one) => digits.indexOf(one));
      const place = (a * digits.length + b) * digits.length + c;
      return made + made.slice(place, place + size + 6) + part.slice(4);
    }).replace(/\^/g, '"');
  }
  const D = JSON.parse(unpacked(JSON.parse(document.getElementById('measure-data').textContent)));
  const KEY = 'cardgen-measure:' + D.rig;
  const main = document.getElementById('main');
  const kept = document.getElementById('kept');
  const WORDS = ['yes', 'no', 'on', 'off', 'true', 'false', 'null', 'unknown'];
  const SIXTEENTHS = ['', '1/16', '1/8', '3/16', '1/4', '5/16', '3/8', '7/16', '1/2', '9/16', '5/8', '11/16', '3/4', '13/16', '7/8', '15/16'];
  D.anchors = D.anchors.map((one) => (one.length === 2 ? [0, 'hole', 0, one[0], 0, 0, one[1]] : one));
  const FOREIGN = new RegExp(D.foreign + '|\\r|\\n', 'u');
  const questions = D.questions.map((row, n) => ({
    n: n,
    path: typeof row[0] === 'string' ? row[0].split('.') : row[0],
    ask: D.words[row[1]], what: D.words[row[2]], where: D.words[row[3]], example: D.words[row[4]],
    thing: row[5], stand: row[6], spec: D.specs[row[7]], checks: D.sets[row[8]], anchor: row[9],
    rest: row[10] || [], usual: row[11] || null, drawing: row[12] || '', number: row[13], first: row[14],
  }));
  questions.forEach((q) => { q.key = JSON.stringify(q.path); });
  // What stands beside a field on its label and is answered with it, and what the line on a tire tells as well.
  const beside = (q, name) => { const key = JSON.stringify(q.path.slice(0, -1).concat([name])); return questions.find((one) => one.key === key); };
  questions.forEach((q) => {
    const pair = D.together.find(([name]) => name === q.path.at(-1));
    const mate = pair && q.spec.t === 'number' && beside(q, pair[1]);
    if (mate && mate.spec.t === 'number' && mate.stand === q.stand) { q.mate = mate; mate.led = q; }
  });
  const moulded = (q) => q.path.at(-1) === 'size' && q.path.at(-2) !== 'cylinders' && q.spec.t === 'text';
  // A tire's line as it is moulded: ST225/75R15 LR E, P265/70R17 113S, 195/70R14C 104/102N, 5.30-12.
  function tire(text) {
    const found = /^\s*(ST|P|LT)?\s*(\d[\d.]*(?:\/\d{2,3})?\s*[RD-]\s*\d{2}(?:\.5)?)\s*(C(?![A-Z])|LT)?\s*(?:\/?\s*(\d{2,3})(?:\/\d{2,3})?\s*([A-Z]))?\s*(XL|EXTRA LOAD|REINFORCED)?\s*(?:(?:LR|LOAD RANGE)\s*([A-H]))?\s*(XL|EXTRA LOAD|REINFORCED)?\s*$/i.exec(text);
    if (!found) return null;
    const [, lead = '', body, tail = '', index, speed, xl, range, more] = found.map((one) => one && one.toUpperCase());
    const bias = /[D-]/.test(body);
    const type = lead || tail ? (lead === 'ST' && bias ? '' : lead || tail) : bias ? 'BIAS' : D.metric && body.includes('/') ? 'EURO' : '';
    const size = lead + body.replace(/\s/g, '') + tail;
    return { size: size, type: type, load_index: index, speed_symbol: speed, load_range: range, extra_load: xl || more ? 'true' : '' };
  }
  const file = (q) => D.files[D.anchors[q.anchor][0]];

  // What was answered: by the path of the field, so that it outlives a new build of the page.
  let state = { sha: D.files.map((f) => f.sha).join(), answers: {}, units: {} };
  let stored = true;
  let news = '';
  function load() {
    try {
      const text = localStorage.getItem(KEY);
      if (!text) { localStorage.setItem(KEY, JSON.stringify(state)); return; }
      const old = JSON.parse(text);
      const known = new Set(questions.map((q) => q.key));
      const gone = Object.keys(old.answers).filter((key) => !known.has(key)).length;
      if (old.sha !== state.sha) {
        news = 'The rig file has changed since you answered. Your answers are kept by the name of their field' +
          (gone ? '; ' + gone + ' of them are in the file now, or no longer asked.' : '.');
        Object.keys(old.answers).forEach((key) => { if (!known.has(key)) delete old.answers[key]; });
      }
      state = { sha: state.sha, answers: old.answers, units: old.units || {} };
    } catch (refused) { stored = false; }
  }
  function keep() {
    try {
      localStorage.setItem(KEY, JSON.stringify(state));
      stored = true;
    } catch (refused) { stored = false; }
    tell();
  }
  function tell() {
    const now = new Date();
    const two = (n) => String(n).padStart(2, '0');
    kept.textContent = stored ? 'kept ' + two(now.getHours()) + ':' + two(now.getMinutes()) : 'not kept!';
    kept.className = stored ? '' : 'lost';
  }

  // Making pieces of the page; every text goes in as text.
  function h(tag, names, ...inside) {
    const made = document.createElement(tag);
    Object.entries(names || {}).forEach(([name, value]) => {
      if (name.startsWith('on')) made.addEventListener(name.slice(2), value);
      else if (value === true) made.setAttribute(name, '');
      else if (value !== false && value !== null && value !== undefined) made.setAttribute(name, value);
    });
    inside.flat().forEach((one) => { if (one || one === 0) made.append(one); });
    return made;
  }
  const fill = (...parts) => main.replaceChildren(...parts.flat(3).filter(Boolean));
  const button = (text, press, kind) => h('button', { type: 'button', class: kind || '', onclick: press }, text);
  const many = (n, word) => n + ' ' + word + (n === 1 ? '' : 's');
  const waiting = (n) => many(n, 'check') + (n === 1 ? ' waits' : ' wait');
  const go = (hash) => { if (location.hash === hash) show(); else location.hash = hash; };

  // Reading what was typed. A fault is thrown as an Error with the words for the person.
  const wrong = (words) => { throw new Error(words); };
  function plain(text, needed) {
    let words = (text || '').trim().replace(/[\u2212\u2013]/g, '-');
    if (!words) { if (needed) wrong('Write a number.'); return null; }
    if (/^-?\d{1,3}(,\d{3})+(\.\d+)?$/.test(words) && !/^-?0/.test(words)) words = words.replace(/,/g, '');
    if (/,/.test(words)) wrong('A comma only groups thousands. Write ' + words.replace(',', '.') + ' if you mean a decimal point.');
    if (!/^-?(\d+(\.\d+)?|\.\d+)$/.test(words)) wrong('“' + words.slice(0, 30) + '” is not a number.');
    return words;
  }
  const fraction = (text) => { const [a, b] = text.split('/'); return b ? a / b : 0; };
  function number(spec, raw, usual) {
    if (raw.o) return { node: raw.o, shown: raw.o };
    const unit = raw.u;
    const typed = (raw.v || '').trim() || (raw.i || '').trim() || raw.f;
    if (!typed) wrong('Write a number.');
    if (!unit) wrong('Choose the unit you read.');
    const kind = D.kinds[spec.k.find((name) => unit in D.kinds[name].t)];
    const [factor, offset] = kind.t[unit];
    let text = '';
    let value = 0;
    if (unit === 'ft in' || unit === 'in') {
      const mixed = unit === 'in' && /^(-?\d+)?\s*(\d{1,2}\/(?:2|4|8|16|32|64))$/.exec((raw.v || '').trim());
      const feet = unit === 'in' ? null : plain(raw.v);
      const inches = mixed ? mixed[1] || '' : plain(unit === 'in' ? raw.v : raw.i) || '';
      const part = mixed ? mixed[2] : raw.f || '';
      if (part && /\./.test(inches)) wrong('Write either decimals or a fraction.');
      if (feet && /^-/.test(inches)) wrong('Put the minus in front of the feet.');
      if (feet && /\./.test(feet) && (inches || part)) wrong('Write whole feet when there are inches.');
      if (feet && Number(inches) + fraction(part) >= 12) wrong('Twelve inches are another foot.');
      const sign = /^-/.test(feet || inches) ? -1 : 1;
      const small = [inches, part].filter(Boolean).join(' ');
      text = [feet && feet + ' ft', small && small + ' in'].filter(Boolean).join(' ');
      value = sign * (Math.abs(Number(feet || 0)) * 12 + Math.abs(Number(inches)) + fraction(part)) * factor;
    } else {
      const words = plain(raw.v, true);
      text = words + ' ' + unit;
      value = Number(words) * factor + offset;
    }
    const low = spec.s ? -kind.r[1] : kind.r[0];
    if (value < 0 && low === 0) wrong('“' + text + '” is negative.');
    if (value < low || value > kind.r[1]) wrong('“' + text + '” is outside what a rig can have. Check the number and its unit.');
    const second = plain(raw.b);
    if (second !== null) {
      const other = other_unit(kind, unit);
      const [by, from] = kind.t[other];
      if (Math.abs(Number(second) * by + from - value) > 0.01 * Math.abs(value)) {
        wrong(text + ' is not ' + second + ' ' + other + '. Read both again.');
      }
    }
    if (usual && raw.ok !== text && (value < usual[0] || value > usual[1])) {
      const doubt = new Error(text + (value < usual[0] ? ' is very little here.' : ' is very much here.'));
      const mine = kind.u.concat(spec.u || []);
      const slip = mine.find((one) => one !== unit && one !== 'ft in' && unit !== 'ft in' && (() => {
        const [by, from] = kind.t[one];
        const si = Number(plain(raw.v)) * by + from;
        return si >= usual[0] && si <= usual[1];
      })());
      doubt.text = text;
      if (slip) {
        const [by, from] = kind.t[slip];
        doubt.slip = slip;
        doubt.says = 'Did you read the ' + slip + ' figure? ' + raw.v.trim() + ' ' + slip + ' is ' +
          Math.round((Number(plain(raw.v)) * by + from - offset) / factor).toLocaleString('en-US') + ' ' + unit + '.';
      }
      throw doubt;
    }
    return { node: text, shown: text, si: value };
  }
  const other_unit = (kind, unit) => kind.u.find((one) => one !== unit && one !== 'ft in');
  function words_of(text, most) {
    if (!text || !text.trim()) wrong('Write something.');
    if (text.length > most) wrong('That is longer than ' + most.toLocaleString('en-US') + ' letters; a card has little room.');
    const odd = FOREIGN.exec(text);
    if (odd) wrong('An invisible character (U+' + odd[0].codePointAt(0).toString(16).toUpperCase().padStart(4, '0') + ') is in it. Type it again by hand.');
    if (!/[\p{L}\p{N}\p{P}\p{S}]/u.test(text.replace(/[\u115f\u1160\u2800\u3164\uffa0]/g, ''))) wrong('Nothing of that can be seen.');
    return text;
  }
  function called(text) {
    words_of(text, 200);
    if (/[^\S ]/.test(text)) wrong('The name holds an unusual blank. Type the blanks again.');
    return text.trim();
  }
  function day(text, ahead) {
    const found = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text || '');
    const made = found && new Date(Date.UTC(found[1], found[2] - 1, found[3]));
    if (!made || made.toISOString().slice(0, 10) !== text) wrong('Write a day like 2026-04-30.');
    if (!ahead && made > Date.now() + 864e5) wrong('That day is still to come.');
    return text;
  }
  const empty = (raw) => !raw || !Object.entries(raw).some(([name, value]) => name !== 'u' && name !== 'ok' && (Array.isArray(value) ? value.some((one) => !empty(one)) : value));
  function read(spec, raw, usual, q) {
    switch (spec.t) {
      case 'number': return number(spec, raw, usual);
      case 'word': return raw.v ? { node: raw.v, shown: raw.v } : wrong('Choose one.');
      case 'flag': return raw.v ? { node: raw.v, shown: raw.v === 'true' ? 'yes' : 'no' } : wrong('Choose one.');
      case 'count': {
        if (!/^\d{1,4}$/.test((raw.v || '').trim())) wrong('Write a whole number such as 2.');
        const whole = String(Number(raw.v));
        return { node: whole, shown: whole };
      }
      case 'plain': { const text = plain(raw.v, true); return { node: text, shown: text }; }
      case 'day': { const text = day((raw.v || '').trim(), q && /registration|inspection/.test(q.path.at(-1))); return { node: text, shown: text }; }
      case 'code': {
        const text = (raw.v || '').trim();
        if (!/^(0[1-9]|[1-4]\d|5[0-3])\d\d$/.test(text)) wrong('Four digits: the week, 01 to 53, and the year, like 2323.');
        return { node: JSON.stringify(text), shown: text };
      }
      case 'pick': case 'seat': return raw.v ? { node: JSON.stringify(raw.v), shown: raw.v } : wrong('Choose one.');
      case 'list': {
        const each = (raw.l || []).filter((one, n) => spec.n || !empty(one)).map((one) => read(D.specs[spec.i], one || {}, usual));
        if (!each.length || (spec.n && each.length < spec.n)) wrong(spec.n ? 'Fill in all ' + spec.n + '.' : 'Write something.');
        return { node: each.map((one) => one.node), si: each.reduce((sum, one) => sum + one.si, 0), shown: each.map((one) => one.shown).join(', ') };
      }
      case 'form': { const made = columns(spec, raw.c || [], ''); return { node: { m: made.pairs }, shown: made.shown }; }
      case 'rows': return rows(spec, raw, q);
      default: { const text = words_of(raw.v, D.longest); return { node: JSON.stringify(text), shown: text }; }
    }
  }
  function columns(spec, raws, name) {
    const pairs = [];
    const more = [];
    const shown = [];
    spec.c.forEach((column, n) => {
      const label = (column.q || 'how far') + ': ';
      const raw = raws[n];
      if (empty(raw)) { if (column.m) wrong(label + 'fill this in.'); return; }
      let found = null;
      try { found = read(D.specs[column.k], raw, null); } catch (fault) { wrong(label + fault.message); }
      shown.push(found.shown);
      if ('a' in column) more.push([column.a, column.r.concat([name]), found.node, column.p.concat([name])]);
      else lay(pairs, column.n, found.node);
    });
    return { pairs: pairs, more: more, shown: shown.join(', ') };
  }
  function lay(pairs, keys, node) {
    let here = pairs;
    keys.slice(0, -1).forEach((key) => {
      let inner = here.find((pair) => pair[0] === key);
      if (!inner) { inner = [key, { m: [] }]; here.push(inner); }
      here = inner[1].m;
    });
    if (keys.length) here.push([keys.at(-1), node]); else here.push(['', node]);
  }
  function rows(spec, raw, q) {
    const nodes = [];
    const more = [];
    const names = [];
    (raw.rows || []).forEach((row) => {
      if (empty(row)) return;
      const name = spec.m ? called(row.name) : '';
      if (spec.m && names.includes(name)) wrong('“' + name + '” is there twice.');
      const made = columns(spec, row.c || [], name);
      names.push(name || made.shown);
      more.push(...made.more);
      const node = made.pairs.length === 1 && made.pairs[0][0] === '' ? made.pairs[0][1] : { m: made.pairs };
      nodes.push(spec.m ? [name, node] : node);
    });
    if (!nodes.length) wrong('Write at least one, or go on.');
    return { node: spec.m ? { m: nodes } : nodes, more: more, shown: names.join('; ') };
  }

  // Writing into the text: the same edits as cardgen/source/edit.py makes.
  const key = (text) => (/^[A-Za-z]([\w -]*\w)?$/.test(text) && !WORDS.includes(text.toLowerCase()) ? text : JSON.stringify(text));
  function block(node, column) {
    const pad = ' '.repeat(column);
    const lines = [];
    const filled = (one) => (Array.isArray(one) ? one.length : one.m.length);
    if (Array.isArray(node)) {
      node.forEach((item) => {
        if (typeof item === 'string') lines.push(pad + '- ' + item);
        else if (filled(item)) {
          const [first, ...rest] = block(item, column + 2);
          lines.push(pad + '- ' + first.trimStart(), ...rest);
        }
      });
    } else {
      node.m.forEach(([name, inner]) => {
        if (typeof inner === 'string') lines.push(pad + key(name) + ': ' + inner);
        else if (filled(inner)) lines.push(pad + key(name) + ':', ...block(inner, column + 2));
      });
    }
    return lines;
  }
  function flow(node) {
    if (typeof node === 'string') return node;
    if (Array.isArray(node)) return '[' + node.map(flow).join(', ') + ']';
    return '{' + node.m.map(([name, inner]) => key(name) + ': ' + flow(inner)).join(', ') + '}';
  }
  function sticky(pattern, text, at) {
    pattern.lastIndex = at;
    return pattern.exec(text)[0];
  }
  const line_end = (text, at) => at + sticky(/[^\r\n]*/y, text, at).length;
  const next_line = (text, at) => at + sticky(/[^\r\n]*(\r\n|\n|\r|$)/y, text, at).length;
  function together(writes) {
    let made = { m: [] };
    writes.forEach(([, keys, node]) => {
      if (keys.length) lay(made.m, keys, node);
      else if (Array.isArray(node)) made = Array.isArray(made) ? made.concat(node) : node;
      else if (node.m && made.m) made.m = made.m.concat(node.m);
      else made = node;
    });
    return made;
  }
  function put(text, writes, looked) {
    const end = text.includes('\r\n') ? '\r\n' : '\n';
    const edits = [];
    const gathered = new Map();
    writes.forEach((one) => gathered.set(one[0], (gathered.get(one[0]) || []).concat([one])));
    gathered.forEach((ones, at) => {
      const [, form, flows, start, noted, line, column] = D.anchors[at];
      const word = noted === 0 ? 'unknown' : noted;
      const stop = start + word.length;
      if (text.slice(start, stop) !== word) throw new Error('The page and its file do not fit. Nothing is written.');
      const node = together(ones);
      const hole = form === 'hole';
      if (hole && (flows || typeof node === 'string')) {
        const blanks = sticky(/ */y, text, stop).length;
        const lead = !word && text[start - 1] === ':' ? ' ' : '';
        const words = lead + flow(node);
        const tail = text[stop + blanks] === '#' ? ' '.repeat(Math.max(2, word.length + blanks - words.length)) : ' '.repeat(blanks);
        edits.push([start, stop + blanks, 0, words + tail]);
      } else if (flows) {
        const lead = '{[,'.includes(text.slice(0, start).trimEnd().at(-1)) ? '' : ', ';
        edits.push([start, stop, 0, lead + flow(node).slice(1, -1)]);
      } else {
        if (hole && word) edits.push([start - (text[start - 1] === ' ' ? 1 : 0), stop, 0, '']);
        const into = hole ? next_line(text, stop) : line;
        const joined = !into || '\r\n'.includes(text[into - 1]) ? '' : end;
        edits.push([into, into, -column, joined + block(node, column).map((one) => one + end).join('')]);
      }
    });
    looked.forEach(([at, words]) => {
      const [, form, , start, noted] = D.anchors[at];
      if (form !== 'hole') return;
      const from = start + (noted === 0 ? 7 : noted.length);
      const stop = line_end(text, from);
      edits.push([stop, stop, 0, text.slice(from, stop).includes('#') ? ' (' + words + ')' : '  # ' + words]);
    });
    edits.sort((a, b) => a[0] - b[0] || a[2] - b[2]);
    let made = '';
    let position = 0;
    edits.forEach(([start, stop, , words]) => {
      made += text.slice(position, start) + words;
      position = stop;
    });
    return made + text.slice(position);
  }
  function answer(q) {
    const had = state.answers[q.key];
    if (!had || had.looked || had.skip) return null;
    try { return read(q.spec, had, q.usual, q); } catch (fault) { return { fault: fault.message }; }
  }
  const done = (q) => { const had = state.answers[q.key]; return Boolean(had && !had.skip && (had.looked || !answer(q).fault)); };
  function finished() {
    const files = D.files.map((one) => ({ name: one.name, sha: one.sha, text: one.text, writes: [], looked: [], fields: [], notes: [] }));
    const faults = [];
    questions.forEach((q) => {
      const had = state.answers[q.key];
      if (!had || had.skip) return;
      const into = files[D.anchors[q.anchor][0]];
      if (had.looked) {
        into.looked.push([q.anchor, q.path.at(-1) + ': not there, looked ' + had.looked]);
        into.notes.push([q.path, had.looked]);
        return;
      }
      const found = answer(q);
      if (found.fault) { faults.push(q); return; }
      into.writes.push([q.anchor, q.rest, found.node]);
      if (q.spec.t === 'rows' && q.spec.m) found.node.m.forEach(([name]) => into.fields.push(q.path.concat([name])));
      else into.fields.push(q.path);
      (found.more || []).forEach(([at, rest, node, path]) => {
        const to = files[D.anchors[at][0]];
        to.writes.push([at, rest, node]);
        to.fields.push(path);
      });
    });
    const changed = files.filter((one) => one.fields.length || one.notes.length).map((one) => {
      const mark = { rig: D.files[0].name, file: one.name, sha256: one.sha, fields: one.fields, looked: one.notes };
      const end = one.text.includes('\r\n') ? '\r\n' : '\n';
      return { name: one.name, text: D.mark + JSON.stringify(mark) + end + put(one.text, one.writes, one.looked), count: one.fields.length + one.notes.length };
    });
    return { files: changed, faults: faults };
  }

  // What contradicts: the same comparisons as the program's, with what is about to be answered for some questions.
  function contradictions(fresh) {
    return D.against.map(([terms, most, strict, mute, words]) => {
      const at = (n) => fresh && fresh.has(n) ? fresh.get(n) : answer(questions[n]);
      if (mute >= 0 && at(mute) && !at(mute).fault) return null;
      const found = terms.map(([n, , si, text]) => (n < 0 ? { si: si, shown: text } : at(n)));
      if (!found.every((one) => one && Number.isFinite(one.si))) return null;
      const sum = found.reduce((total, one, n) => total + one.si * terms[n][1], 0);
      if (strict ? sum < most : sum <= most + 1e-6) return null;
      const said = found.reduce((text, one, n) => text.replace('{' + 'abcd'[n] + '}', one.shown), words);
      return { words: upper(said) + '.', asks: terms.map(([n]) => n).filter((n) => n >= 0) };
    }).filter(Boolean);
  }
  function contradicted(one, raw, found, fresh) {
    const broken = contradictions(fresh).filter((clash) => clash.asks.includes(one.n));
    if (!broken.length || raw.ok === found.shown) return;
    const doubt = new Error(broken[0].words);
    doubt.text = found.shown;
    doubt.asks = broken[0].asks.filter((n) => n !== one.n);
    const kind = one.spec.t === 'number' && D.kinds[one.spec.k.find((name) => raw.u in D.kinds[name].t)];
    const slip = kind && raw.u !== 'ft in' && kind.u.find((unit) => {
      if (unit === raw.u || unit === 'ft in') return false;
      const [by, from] = kind.t[unit];
      const other = new Map(fresh).set(one.n, { si: Number(plain(raw.v)) * by + from, shown: '' });
      return !contradictions(other).some((clash) => clash.asks.includes(one.n));
    });
    if (slip) { doubt.slip = slip; doubt.says = 'Did you read the ' + slip + ' figure?'; }
    throw doubt;
  }

  // Forms.
  let serial = 0;
  function choice(name, options, raw, field, changed, labels) {
    const group = 'g' + (serial += 1);
    return h('div', { class: 'seg', role: 'radiogroup', 'aria-label': name }, options.map((one, n) => h('label', {},
      h('input', { type: 'radio', name: group, value: one, checked: raw[field] === one, onchange: () => { raw[field] = one; if (changed) changed(); } }),
      h('span', {}, labels ? labels[n] : one))));
  }
  function entry(label, raw, field, names, quiet) {
    const id = 'f' + (serial += 1);
    const box = h('input', Object.assign({ id: id, type: 'text', autocomplete: 'off', value: raw[field] || '', oninput: (event) => { raw[field] = event.target.value; } }, names));
    return h('div', { class: 'entry' }, h('label', { for: id, class: quiet ? 'quiet' : '' }, label), box);
  }
  function numbers(label, spec, raw, q) {
    const kinds = spec.k.map((name) => D.kinds[name]);
    const units = spec.u || kinds.flatMap((one) => one.u);
    const holder = h('div', { class: 'number' });
    const memory = q ? q.stand + spec.k[0] : '';
    if (!raw.u && q && state.units[memory] && units.includes(state.units[memory])) raw.u = state.units[memory];
    if (!raw.u && units.length === 1) raw.u = units[0];
    function draw() {
      const feet = raw.u === 'ft in';
      const inches = feet || raw.u === 'in';
      const numeric = { inputmode: spec.s ? 'text' : 'decimal' };
      const boxes = [entry(feet ? label + ', feet' : label, raw, 'v', Object.assign({ class: 'big' }, numeric), true)];
      if (feet) boxes.push(h('span', { class: 'unit' }, 'ft'), entry(label + ', inches', raw, 'i', Object.assign({ class: 'big' }, numeric), true));
      if (inches) {
        const id = 'f' + (serial += 1);
        boxes.push(h('div', { class: 'entry part' }, h('label', { for: id, class: 'quiet' }, 'and a fraction of an inch'),
          h('select', { id: id, onchange: (event) => { raw.f = event.target.value; } }, SIXTEENTHS.map((one) => h('option', { value: one, selected: raw.f === one }, one || '0')))), h('span', { class: 'unit' }, 'in'));
      } else if (raw.u) boxes.push(h('span', { class: 'unit' }, raw.u));
      const parts = [h('div', { class: 'boxes' }, boxes)];
      if (units.length > 1) parts.push(choice('Unit', units, raw, 'u', draw));
      if (spec.o) parts.push(choice('Or', spec.o.concat(['']), raw, 'o', null, spec.o.concat(['a number'])));
      if (q && q.twice && raw.u && other_unit(kinds[0], raw.u)) {
        parts.push(entry('The same line in ' + other_unit(kinds[0], raw.u) + ', if printed', raw, 'b', { class: 'small', inputmode: 'decimal' }));
      }
      holder.replaceChildren(...parts);
    }
    draw();
    return holder;
  }
  const upper = (text) => text.charAt(0).toUpperCase() + text.slice(1);
  const readable = (word) => word.replace(/_/g, ' ');
  function asked(label, spec, raw, q) {
    switch (spec.t) {
      case 'number': return numbers(label, spec, raw, q);
      case 'word': return choice(label, spec.o, raw, 'v', null, spec.o.map(readable));
      case 'flag': return choice(label, ['true', 'false'], raw, 'v', null, ['yes', 'no']);
      case 'pick': return choice(label, spec.o, raw, 'v');
      case 'seat': {
        const seats = questions.find((one) => one.key === '["vehicle","seats"]');
        const had = seats && state.answers[seats.key];
        const names = spec.o.concat(((had && had.rows) || []).map((row) => (row.name || '').trim()).filter(Boolean));
        return names.length ? choice(label, [...new Set(names)], raw, 'v') : h('p', { class: 'note' }, 'Answer first how far ahead of the rear axle each seat row is.');
      }
      case 'count': case 'code': return entry(label, raw, 'v', { class: 'big', inputmode: 'numeric' }, true);
      case 'plain': return entry(label, raw, 'v', { class: 'big', inputmode: 'decimal' }, true);
      case 'day': return entry(label, raw, 'v', { class: 'big', type: 'date' }, true);
      case 'list': {
        raw.l = raw.l || [];
        const count = spec.n || Math.max(2, raw.l.length + 1);
        const holder = h('div', { class: 'rows' });
        const draw = () => holder.replaceChildren(...Array.from({ length: count }, (_, n) => {
          raw.l[n] = raw.l[n] || {};
          const name = spec.n ? 'Axle ' + (n + 1) + (n ? '' : ', front') : 'No. ' + (n + 1);
          return h('fieldset', {}, h('legend', {}, name), asked(name, D.specs[spec.i], raw.l[n], q));
        }), ...(spec.n > 1 ? [button('All axles alike', () => { raw.l = raw.l.map(() => Object.assign({}, raw.l[0])); draw(); })] : []));
        draw();
        return holder;
      }
      case 'form': raw.c = raw.c || []; return h('div', { class: 'rows' }, fields(spec, raw.c));
      case 'rows': return table(spec, raw, label);
      default: return entry(label, raw, 'v', { class: 'big', dir: 'auto' }, true);
    }
  }
  function fields(spec, raws) {
    return spec.c.map((column, n) => {
      raws[n] = raws[n] || {};
      const name = column.q || 'how far';
      return h('fieldset', {}, h('legend', {}, name + (column.m ? '' : ' (if known)')), asked(name, D.specs[column.k], raws[n], null));
    });
  }
  function table(spec, raw, label) {
    raw.rows = raw.rows && raw.rows.length ? raw.rows : [{}];
    const holder = h('div', { class: 'rows' });
    function draw() {
      holder.replaceChildren(...raw.rows.map((row, n) => {
        row.c = row.c || [];
        return h('fieldset', { class: 'row' }, h('legend', {}, 'No. ' + (n + 1)),
          spec.m && entry('name', row, 'name', { dir: 'auto' }), fields(spec, row.c));
      }), button('One more', () => { raw.rows.push({}); draw(); }));
    }
    draw();
    return holder;
  }

  // Views.
  const open = (list) => list.filter((q) => !done(q));
  const waits = (list) => new Set(list.flatMap((q) => q.checks)).size;
  const settled = () => D.checks.filter((check, n) => {
    if (!check[1]) return true;
    const asks = questions.filter((q) => q.checks.includes(n));
    return asks.length > 0 && !open(asks).length;
  }).length;
  let queue = [];
  const early = () => open(questions.filter((q) => q.first));
  // One answer holds what stands in one line: the leading field is counted alone.
  const pages = (list) => list.filter((q) => !list.includes(q.led) && !(q.path.at(-1) === 'type' && list.includes(beside(q, 'size')))).length;
  function quickest() {
    let best = null;
    D.checks.forEach((check, n) => {
      const asks = open(questions.filter((q) => q.checks.includes(n)));
      if (!check[1] || !asks.length) return;
      const walks = new Set(asks.map((q) => q.stand)).size;
      const cost = (asks.length + 0.6 * walks) / (check[2] ? 3 : 1);
      if (!best || cost < best.cost) best = { cost: cost, asks: asks };
    });
    return best ? best.asks.map((q) => q.n) : [];
  }
  function head(back, text) {
    document.getElementById('back').replaceChildren(back ? h('a', { href: back }, '‹ ' + text) : text);
  }
  function hub() {
    head('', 'Measuring page');
    const left = open(questions);
    const first = early();
    const have = settled();
    fill(
      h('h1', { tabindex: -1 }, left.length ? 'What is still missing' : 'Everything is answered'),
      news && h('p', { class: 'flag', role: 'status' }, news),
      !stored && h('p', { class: 'flag', role: 'status' }, 'This browser keeps nothing: give the file back before you close the page.'),
      h('p', {}, left.length ? many(left.length, 'answer') + ' to find. Start where you stand; stop when you like.' : 'Give the file back, then build: new questions may come.'),
      h('p', { class: 'count' }, h('b', {}, String(have)), ' of ' + D.checks.length + ' checks have what they ask for'),
      h('div', { class: 'cells', 'aria-hidden': 'true' }, D.checks.map((_, n) => h('i', { class: n < have ? 'on' : '' }))),
      first.length && h('p', {}, 'A first card needs ' + many(pages(first), 'answer') + ': what labels, stamps and sidewalls say, and one weighing in three passes.'),
      first.length && button('First card: ' + many(pages(first), 'answer'), () => { queue = first.map((q) => q.n); go('#q-' + queue[0]); }, 'main'),
      left.length && button('Start with the quickest check', () => { queue = quickest(); const next = queue.length ? queue[0] : left[0].n; go('#q-' + next); }, first.length ? '' : 'main'),
      Object.keys(state.answers).length && h('a', { class: 'press', href: '#file' }, 'Give the file back'),
      h('h2', {}, 'Where do you stand?'),
      h('ul', { class: 'places' }, D.places.map(([title, what], n) => {
        const there = questions.filter((q) => q.stand === n);
        const here = open(there);
        return there.length > 0 && h('li', {}, h('a', { href: '#at-' + n }, h('span', {}, h('b', {}, title), h('small', {}, what + (waits(here) ? ' · ' + waiting(waits(here)) : here.length ? ' · no check waits' : ''))), h('span', { class: 'left' }, here.length ? String(here.length) : 'all there')));
      })),
      h('p', { class: 'note' }, 'An answer can raise a new question. Only a build shows it: give the file back, build, and look here again.'),
      h('p', { class: 'note' }, 'Nothing leaves this phone until you press a button that says so.'),
    );
  }
  function place(n) {
    const [title, , bring] = D.places[n];
    head('#', 'Measuring page');
    const here = questions.filter((q) => q.stand === n);
    const groups = [...new Set(here.map((q) => q.thing))];
    const first = open(here)[0];
    fill(
      h('h1', { tabindex: -1 }, title),
      h('p', {}, 'Bring: ' + bring + '.' + (early().some((q) => q.stand === n) ? ' \u2605 makes the first card.' : '')),
      first && button('Begin', () => { queue = []; go('#q-' + first.n); }, 'main'),
      groups.map((thing) => {
        const list = here.filter((q) => q.thing === thing);
        return [h('h2', {}, D.things[thing]), same(list, show), h('ul', { class: 'asked' }, list.map((q) => {
          const had = state.answers[q.key];
          const found = answer(q);
          const said = !had ? (q.checks.length ? waiting(q.checks.length) : '') : had.looked ? 'not there' : had.skip ? 'not known' : found.fault ? 'look again' : found.shown;
          return h('li', {}, h('a', { href: '#q-' + q.n }, h('span', {}, h('span', { class: 'no' }, q.number + (q.first ? '\u2605 ' : '. ')), q.ask), h('span', { class: 'left' + (done(q) ? ' got' : '') }, said)));
        }))];
      }),
    );
  }
  function same(list, then) {
    const rear = list.filter((q) => q.key.startsWith('["vehicle","tires","rear",') && q.path[3] !== 'date_code');
    const pairs = rear.map((q) => [q, state.answers[q.key.replace('"rear"', '"front"')]]).filter(([q, had]) => had && !state.answers[q.key]);
    return pairs.length > 1 && button('Marked like the front ones: take the same ' + pairs.length + ' answers', () => {
      pairs.forEach(([q, had]) => { state.answers[q.key] = JSON.parse(JSON.stringify(had)); });
      keep();
      then();
    });
  }
  function take_line(q, raw) {
    const told = moulded(q) && tire(raw.v || '');
    if (!told) return;
    raw.v = told.size;
    Object.entries(told).forEach(([name, value]) => {
      const one = name !== 'size' && beside(q, name);
      const had = one && state.answers[one.key];
      if (!one || (had && !had.line)) return;
      delete state.answers[one.key];
      if (value) state.answers[one.key] = { v: value, line: 1 };
    });
  }
  // An answer in a shared part changes every rig that takes it.
  function part_of(q) {
    const part = D.anchors[q.anchor][0] ? file(q) : null;
    const rigs = part && part.rigs && part.rigs.length ? ': ' + part.rigs.join(', ') : '';
    return part && h('p', { class: 'flag' }, 'This stands in the shared part ' + part.name + '. Every rig that takes it changes with the answer' + rigs + '.');
  }
  function question(asks) {
    const q = asks.led && !done(asks.led) ? asks.led : asks;
    const both = [q, q.mate].filter((one) => one && (one === q || !done(one)));
    const list = questions.filter((one) => one.stand === q.stand && one.thing === q.thing);
    head('#at-' + q.stand, D.places[q.stand][0]);
    const raws = both.map((one) => {
      const had = state.answers[one.key];
      one.twice = one.spec.t === 'number' && one.spec.k[0] === 'mass' && ['door', 'label', 'inside'].includes(D.stands[one.stand]);
      return had && !had.looked && !had.skip ? JSON.parse(JSON.stringify(had)) : {};
    });
    const part = (n) => h('div', {}, n > 0 && h('p', { class: 'also' }, both[n].ask), asked(both[n].ask, both[n].spec, raws[n], both[n]));
    const parts = both.map((_, n) => part(n));
    const say = h('div', { class: 'say', role: 'alert' });
    const form = h('form', { novalidate: true, onsubmit: (event) => { event.preventDefault(); take(); }, onchange: () => {
      if (!both[1] || raws[1].u || !raws[0].u || both[0].spec.k[0] !== both[1].spec.k[0]) return;
      raws[1].u = raws[0].u;
      const fresh = part(1);
      parts[1].replaceWith(fresh);
      parts[1] = fresh;
    } }, parts, say, h('button', { type: 'submit', class: 'main' }, 'Continue'));
    function on() {
      keep();
      const order = queue.includes(q.n) ? queue.map((n) => questions[n]) : list.concat(questions.filter((one) => one.stand === q.stand && one.thing !== q.thing));
      const at = order.indexOf(q);
      const next = order.slice(at + 1).concat(order.slice(0, at)).find((one) => !state.answers[one.key]);
      go(next ? '#q-' + next.n : queue.includes(q.n) ? '#' : '#at-' + q.stand);
    }
    function leave(value) {
      both.forEach((one, n) => { if (empty(raws[n])) state.answers[one.key] = value; });
      on();
    }
    function take() {
      const filled = both.filter((one, n) => one === q ? both.length < 2 || !empty(raws[0]) || empty(raws[1]) : !empty(raws[n]));
      const fresh = new Map();
      for (const one of filled) {
        const raw = raws[both.indexOf(one)];
        try {
          const found = read(one.spec, raw, one.usual, one);
          fresh.set(one.n, found);
          contradicted(one, raw, found, fresh);
        } catch (fault) {
          const told = [h('p', {}, h('b', {}, fault.message))];
          if (fault.says) told.push(h('p', {}, fault.says), button('Yes, it is ' + raw.v.trim() + ' ' + fault.slip, () => { raw.u = fault.slip; take(); }, 'main'));
          (fault.asks || []).forEach((n) => told.push(h('p', {}, h('a', { href: '#q-' + n }, questions[n].ask))));
          if (fault.text) told.push(button((fault.says ? 'No, ' : 'Yes, ') + fault.text + ' is right', () => { raw.ok = fault.text; take(); }));
          say.replaceChildren(...told);
          say.classList.add('on');
          return;
        }
      }
      filled.forEach((one) => {
        const raw = raws[both.indexOf(one)];
        if (raw.u) state.units[one.stand + one.spec.k[0]] = raw.u;
        delete raw.line;
        take_line(one, raw);
        state.answers[one.key] = raw;
      });
      on();
    }
    const box = q.drawing && document.getElementById('d-' + q.drawing[0]);
    const drawing = box && box.content.cloneNode(true);
    if (drawing) both.forEach((one) => one.drawing && one.drawing[0] === q.drawing[0] && one.drawing[1].forEach((n) => drawing.querySelectorAll('g')[n].classList.add('ink')));
    const written = q.example && 'Written like ' + q.example.replace(/^'(.*)'$/, '$1');
    const checks = [...new Set(both.flatMap((one) => one.checks))];
    fill([
      h('p', { class: 'thing' }, D.things[q.thing] + ' \u00b7 ' + (list.indexOf(q) + 1) + ' of ' + list.length + ' \u00b7 no. ' + both.map((one) => one.number).join(' and ')),
      h('h1', { tabindex: -1 }, q.ask),
      h('p', {}, upper([q.what, q.where].filter(Boolean).join('. Where: ') + '.')),
      drawing && h('div', { class: 'drawing' }, drawing), !done(q) && same(list, on), part_of(q), form,
      written && h('p', { class: 'note' }, written + (moulded(q) ? '; the whole line may stand here, like ST205/75R14 LR C or P225/65R17 102H: it answers the marks after it too' : '')),
      h('div', { class: 'pair' }, button('Not there', () => leave({ looked: today() })), button('I do not know', () => leave({ skip: true }))),
      checks.length ? h('details', {}, h('summary', {}, waiting(checks.length) + ' for this'), h('ul', {}, checks.map((n) => h('li', {}, D.checks[n][0])))) : h('p', { class: 'note' }, 'No check waits for this now; it shapes the checklist or the print.'),
    ]);
  }
  function today() {
    const now = new Date();
    return new Date(now - now.getTimezoneOffset() * 6e4).toISOString().slice(0, 10);
  }
  function give() {
    head('#', 'Measuring page');
    let made = null;
    try { made = finished(); } catch (fault) {
      fill(h('h1', { tabindex: -1 }, 'Give the file back'), h('p', { class: 'flag' }, fault.message));
      return;
    }
    const status = h('p', { role: 'status' });
    const parts = [h('h1', { tabindex: -1 }, 'Give the file back')];
    if (made.faults.length) parts.push(h('p', { class: 'flag' }, 'Look again at ' + made.faults.length + ': ', made.faults.map((q) => h('a', { href: '#q-' + q.n }, q.ask + ' '))));
    contradictions().forEach((clash) => parts.push(h('p', { class: 'flag' }, clash.words + ' ', clash.asks.map((n) => h('a', { href: '#q-' + n }, questions[n].ask + ' ')))));
    if (!made.files.length) parts.push(h('p', {}, 'Nothing is answered yet.'));
    else parts.push(h('p', {}, 'The whole rig file comes back, with your answers in their places. It holds what the rig file holds: names and weights of people too.'));
    made.files.forEach((one) => {
      const name = one.name.replace(/\//g, '-').replace(/\.ya?ml$/, '') + '-measured.yaml';
      const blob = new Blob([one.text], { type: 'text/plain' });
      const sent = typeof File === 'function' && navigator.canShare && new File([blob], name + '.txt', { type: 'text/plain' });
      const buttons = [h('a', { class: 'press main', download: name, href: URL.createObjectURL(blob) }, 'Save ' + name)];
      if (sent && navigator.canShare({ files: [sent] })) buttons.push(button('Send it', () => navigator.share({ files: [sent] }).catch(() => {})));
      buttons.push(button('Copy its text', () => {
        const fail = () => { area.hidden = false; area.select(); status.textContent = 'Copy the text below by hand.'; };
        if (navigator.clipboard) navigator.clipboard.writeText(one.text).then(() => { status.textContent = 'Copied.'; }, fail);
        else fail();
      }));
      const area = h('textarea', { hidden: true, readonly: true, 'aria-label': one.name });
      area.value = one.text;
      parts.push(h('h2', { class: 'file' }, one.name), h('p', {}, many(one.count, 'answer') + '.' + (one.name === D.files[0].name ? '' : ' A shared part: other rigs that take it change with it.')), h('div', { class: 'stack' }, buttons), area);
    });
    parts.push(status, h('p', { class: 'note' }, 'Where the rig files are: cardgen take FILE shows the lines and asks before it writes them.'));
    if (Object.keys(state.answers).length) {
      parts.push(button('Forget all answers', (event) => {
        if (event.target.dataset.sure) { state.answers = {}; keep(); go('#'); return; }
        event.target.dataset.sure = '1';
        event.target.textContent = 'Yes, forget all ' + Object.keys(state.answers).length;
      }));
    }
    fill(parts);
  }
  let shown = false;
  function show() {
    const [, name, n] = /^#?([a-z]*)-?(\d*)$/.exec(location.hash) || [];
    if (name === 'q' && questions[n]) question(questions[n]);
    else if (name === 'at' && D.places[n]) place(Number(n));
    else if (name === 'file') give();
    else hub();
    if (shown) { window.scrollTo(0, 0); main.querySelector('h1').focus({ preventScroll: true }); }
    shown = true;
  }
  load();
  tell();
  window.addEventListener('hashchange', show);
  show();
}());
