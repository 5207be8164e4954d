// Added to the page of checks. What if: adds up bases and gains and compares with the limits that the page carries. It computes nothing of its own.
(function () {
  'use strict';
  const { byId, decoded, read } = rig;

  // Numbers are written as the cards write them: round half to even, thousands grouped.
  function fixed(value, digits) {
    let text = Math.abs(value).toFixed(digits);
    const exact = Math.abs(value).toFixed(Math.min(100, digits + 60));
    if (/^50*$/.test(exact.slice(exact.indexOf('.') + 1 + digits))) {
      const down = exact.slice(0, exact.indexOf('.') + (digits ? 1 + digits : 0));
      if ('02468'.includes(down[down.length - 1])) text = down;
    }
    const [whole, part] = text.split('.');
    const grouped = whole.replace(/\B(?=(\d{3})+$)/g, ',') + (part ? '.' + part : '');
    return value < 0 && /[1-9]/.test(grouped) ? '-' + grouped : grouped;
  }

  function whatIf() {
    const data = read('whatif-data');
    const form = byId('w-form');
    if (!data || !form) return;
    const words = data.words;
    const show = (si, kind, digits) => {
      const style = data.styles[kind];
      const places = digits === undefined ? style.digits : digits;
      return fixed((si - style.offset) / style.factor, places) + '\u00a0' + style.unit;
    };
    // Decimals that tell a limit from a demand past it, as the cards write it; the usual ones when they do.
    function telling(kind, value, ends, margin) {
      if (!(margin < -1e-9 * Math.abs(value))) return undefined;
      const usual = data.styles[kind].digits;
      const tells = (d) => ends.every((end) => show(value, kind, d) !== show(end, kind, d)) && show(-margin, kind, d) !== show(0, kind, d);
      return [0, 1, 2, 3].map((more) => usual + more).find(tells) ?? usual + 4;
    }
    const inputs = data.controls.map((control, i) => byId('w' + i));
    let at = [];       // position of every control [%, or the unit of temperature]; null: not stated
    let shares = [];   // share of every load that is aboard
    let preset = null; // index of the loading case while it is untouched

    // value = base + sum(gain * (share - was)); an unknown makes the whole total unknown
    function total(name) {
      const known = preset === null ? {} : data.presets[preset].values;
      if (name in known) return { value: known[name], needs: new Set(data.presets[preset].missing[name]) };
      const sum = data.forms[name];
      const needs = new Set(sum.needs);
      let value = sum.base === null ? 0 : sum.base;
      // no vehicle drives itself: with nobody aboard it is not known who drives
      const moved = data.people.filter((person) => sum.rows.some(([index]) => index === person));
      if (moved.length && moved.every((person) => shares[person] === 0)) data.nobody.forEach((n) => needs.add(n));
      for (const [index, gain, was, missing] of sum.rows) {
        const full = data.loads[index].full;
        const share = shares[index];
        if (was === null || share === null) {
          if (full === 0) continue;
          if (share === null) needs.add(words.set + ' ' + data.loads[index].label);
          missing.forEach((n) => needs.add(n));
          continue;
        }
        if (was === share) continue;
        if (gain === null) missing.forEach((n) => needs.add(n));
        else value += gain * (share - was);
      }
      return { value: needs.size || sum.base === null ? null : value, needs: needs };
    }

    // How far the loads of known place alone make a side of the trailer heavier, and all else at most on top.
    function leaning(made, names, lopsided) {
      const group = names.length === 3 ? made[names[1]].value : null;
      if (!group) return [0, 0];
      const sum = data.forms[names[0]];
      const weights = new Map(data.forms[names[2]].rows.map(([index, gain]) => [index, gain]));
      let sides = sum.base || 0;
      let others = lopsided;
      for (const [index, gain, was] of sum.rows) {
        if (was === null || shares[index] === null) continue;
        if (gain === null) others += Math.abs((weights.get(index) || 0) * (shares[index] - was));
        else sides += gain * (shares[index] - was);
      }
      return [Math.abs(sides) / group, others / group];
    }

    // what each uncertain input adds: a + sum(b * share), and each filling that a slider sets in part
    function parts(name) {
      const found = new Map();
      for (const [n, [a, b, input]] of data.forms[name].spread.entries()) {
        found.set(input === undefined ? 'row ' + n : input, Object.keys(b).reduce((sum, index) => sum + b[index] * shares[index], a));
      }
      for (const [index, gain] of data.forms[name].rows) {
        const share = shares[index];
        if (data.loads[index].fill && share > 0 && share < 1) found.set('fill ' + index, gain * data.loads[index].fill);
      }
      return found;
    }

    // standard uncertainty of a total or of the tongue share in this setting, the root of the sum of squares
    function spread(made, name) {
      if (preset !== null) return data.presets[preset].u[name];
      if (name !== 'tongue_share') return Math.hypot(...parts(name).values());
      const whole = made.trailer_weight.value;
      const top = parts('tongue_weight');
      const bottom = parts('trailer_weight');
      const keys = new Set([...top.keys(), ...bottom.keys()]);
      const part = (key) => ((top.get(key) || 0) - made.tongue_share.value * (bottom.get(key) || 0)) / whole;
      return Math.hypot(...[...keys].map(part));
    }

    function evaluate() {
      const made = {};
      Object.keys(data.forms).forEach((name) => { made[name] = total(name); });
      const top = made.tongue_weight;
      const bottom = made.trailer_weight;
      made.tongue_share = preset !== null ? total('tongue_share') : {
        value: top.value === null || !bottom.value ? null : top.value / bottom.value,
        needs: new Set([...top.needs, ...bottom.needs]),
      };
      Object.keys(made).forEach((name) => { made[name].u = made[name].value === null || (data.forms[name] && !data.forms[name].spread) ? null : spread(made, name); });
      Object.keys(made).forEach((name) => { made[name].rival = rival(made, name); });
      return made;
    }

    // Where scale and file differ by more than both explain: how far the file lies from the scale, and its
    // uncertainty. The worse of the two counts.
    function rival(made, name) {
      if (preset !== null) return data.presets[preset].rivals[name];
      if (name !== 'tongue_share') return data.rivals[name];
      const [top, bottom] = ['tongue_weight', 'trailer_weight'].map((one) => data.rivals[one]);
      if (!(top || bottom) || made.tongue_share.value === null) return undefined;
      const share = (made.tongue_weight.value + (top ? top[0] : 0)) / (made.trailer_weight.value + (bottom ? bottom[0] : 0));
      return [share - made.tongue_share.value, (data.rivals.tongue_share || [0, made.tongue_share.u])[1]];
    }

    const unknown = (needs) => words.unknown + (needs.size ? ': ' + [...needs].slice(0, 3).join('; ') : '');

    // Largest of some totals, the interval it can lie in, and what is missing in any of them.
    function largest(made, check, other) {
      const asked = { value: null, low: null, high: null, sure: null, least: null, needs: new Set((preset === null && check.moved) || check.needs) };
      const open = check.open || {};
      check.of.forEach((name) => {
        made[name].needs.forEach((n) => asked.needs.add(n));
        if (made[name].value === null) return;
        const [shift, u] = (other && made[name].rival) || [0, made[name].u];
        const value = made[name].value + shift;
        const spread = data.coverage * (u || 0);
        const reach = open[name] || 0;
        asked.value = asked.value === null ? value : Math.max(asked.value, value);
        asked.sure = asked.sure === null ? value - reach : Math.max(asked.sure, value - reach);
        asked.least = asked.least === null ? value + reach : Math.max(asked.least, value + reach);
        asked.low = asked.low === null ? value - spread : Math.max(asked.low, value - spread);
        asked.high = asked.high === null ? value + spread : Math.max(asked.high, value + spread);
      });
      if (Object.keys(open).length) asked.could = asked.value;
      return asked;
    }

    // Where a demand lies against the thresholds of its check: the program's own rule.
    function outcome(asked, t) {
      const beyond = (a, b) => a - b > Math.max(1e-9 * Math.max(Math.abs(a), Math.abs(b)), 1e-12);
      const past = (value, above, below) =>
        (above !== null && beyond(value, above)) || (below !== null && beyond(below, value));
      if (asked.value === null || Object.values(t).every((one) => one === null)) return 'unknown';
      if (past(asked.sure, t.over_above, null) || past(asked.least, null, t.over_below)) return 'over';
      if (t.over_unless_above !== null && !beyond(asked.low, t.over_unless_above)) return 'over';
      const could = asked.could === undefined ? null : asked.could;
      if (asked.needs.size || (could !== null && past(could, t.over_above, null))) return 'unknown';
      const reaches = [asked.low, asked.high].some((end) => past(end, t.over_above, t.over_below) || past(end, null, t.close_unless_above));
      const little = past(asked.value, t.close_above, t.close_below) || (could !== null && past(could, t.close_above, null));
      return reaches || little ? 'close' : 'within';
    }

    // By the scale and by the file: the worse speaks.
    function worse(ask, check) {
      const ranks = ['over', 'unknown', 'close', 'within'];
      return [false, true]
        .map((other) => ask(other))
        .map((asked) => [asked, outcome(asked, check.thresholds)])
        .reduce((a, b) => (ranks.indexOf(b[1]) < ranks.indexOf(a[1]) ? b : a));
    }

    // What is said of a check: demand, what it is held against, and what is left.
    function said(check, asked, level) {
      if (level === 'unknown') return unknown(asked.needs);
      const ends = [check.low, check.limit].filter((end) => end !== null);
      const margin = Math.min(check.limit - asked.value, check.low === null ? Infinity : asked.value - check.low);
      const places = telling(check.kind, asked.value, ends, margin);
      const write = (si) => show(si, check.kind, places);
      if (check.low !== null) return write(asked.value) + ', ' + words.band + ' ' + ends.map(write).join(' ' + words.to + ' ');
      const left = check.limit - asked.value;
      return write(asked.value) + ' ' + words.of + ' ' + write(check.limit) + ', ' + write(Math.abs(left)) + ' ' + (left < 0 ? words.past : words.left);
    }

    // Load of the heavier wheel, with what is assumed and without.
    function wheel(made, plan, other) {
      const asked = largest(made, plan, other);
      if (asked.value === null) return asked;
      const even = asked.value / plan.wheels;
      const spread = (asked.high - asked.value) / plan.wheels;
      let side = plan.share;
      let more = plan.allowance;
      asked.could = even;
      if (plan.sides.length) {
        const left = made[plan.sides[0]].value;
        const right = made[plan.sides[1]].value;
        if (left !== null && right !== null && left + right > 0) side = Math.max(side, 2 * Math.max(left, right) / (left + right));
        if (left === null || right === null) {
          const [lean, others] = leaning(made, plan.lean, plan.lopsided);
          more = Math.max(more, lean);
          if (others && !plan.every) asked.could = even * (1 + lean + others);
        }
      }
      asked.sure = Math.max(plan.weighed, (even - plan.assumed / plan.wheels) * side);
      asked.value = Math.max(asked.sure, even * side, plan.every ? 0 : even * (1 + more));
      asked.low = asked.sure - spread;
      asked.high = Math.max(asked.value, asked.sure + spread);
      return asked;
    }

    // The pressure of the step that carries the heavier wheel, and how it reads in the air outside.
    function pressure(asked, plan, level, kelvin) {
      const step = (load) => (load === null ? plan.unloaded : plan.steps.find(([end]) => end === null || load <= end).slice(1));
      const [said, least, stops] = step(asked.value);
      if (stops === 'over' && level !== 'over') return [words[said], '', stops];
      if (asked.value === null || (asked.needs.size && level !== 'over')) return [words.unknown, [...asked.needs].slice(0, 3).join('; '), 'unknown'];
      const carried = words.wheel + ' ' + show(asked.value, 'mass');
      if (level === 'over') return [words.overloaded, carried, level];
      // what has no place across may ask for more: that is set where the tire may be past its load, and passes nothing
      const most = step(Math.max(asked.value, asked.could));
      const [status, set] = level === 'unknown' ? most : [said, least];
      const settled = said === 'set' && (most[0] !== said || most[1] !== least) ? 'unknown' : stops;
      if (set === null) return [words[status] || words.unknown, carried, settled];
      const reads = (set + data.air) * kelvin / plan.reference - data.air;
      const text = words.cold + ' ' + words.at + ' ' + show(plan.reference, 'temperature') + '; ' + words.reads + ' ' + show(reads, plan.kind) + ' ' + words.at + ' ' + show(kelvin, 'temperature');
      return [show(set, plan.kind), text + '; ' + carried, level !== 'over' && (settled === 'unknown' || (settled === 'close' && level === 'within')) ? settled : level];
    }

    function air() {
      const i = data.controls.findIndex((c) => c.kind === 'temperature');
      const style = data.styles.temperature;
      return at[i] * style.factor + style.offset;
    }

    function setShares() {
      if (preset !== null) return;
      data.controls.forEach((control, i) => {
        if (control.kind === 'temperature') return;
        control.loads.forEach((load) => { shares[load] = at[i] === null ? null : at[i] / 100; });
      });
      data.controls.forEach((control, i) => {
        if (at[i] === 0) control.gates.forEach((load) => { shares[load] = 0; });
      });
    }

    function label(control, i) {
      if (control.kind === 'temperature') return show(air(), 'temperature');
      if (at[i] === null) return '?';
      const part = at[i] / 100;
      const texts = [show(part, 'share')];
      if (control.volume) texts.push(show(part * control.volume, 'volume'));
      const full = control.loads.length ? data.loads[control.loads[0]].full : null;
      if (full !== null) texts.push(show(part * full, 'mass'));
      return texts.join(', ');
    }

    function render() {
      setShares();
      const made = evaluate();
      const seen = [];
      data.controls.forEach((control, i) => {
        if (control.kind === 'switch') {
          inputs[i].checked = at[i] === 100;
          return;
        }
        const text = label(control, i);
        inputs[i].value = at[i] === null ? inputs[i].min : String(Math.round(at[i]));
        inputs[i].setAttribute('aria-valuetext', text);
        byId('w' + i + '-o').textContent = text;
      });
      data.numbers.forEach((name) => {
        const kind = name === 'tongue_share' ? 'fraction' : 'mass';
        byId('n-' + name).textContent = made[name].value === null ? unknown(made[name].needs) : show(made[name].value, kind);
      });
      data.checks.forEach((check) => {
        const row = byId('k-' + check.code);
        const [asked, level] = worse((other) => largest(made, check, other), check);
        seen.push(level);
        const chip = row.querySelector('.chip');
        chip.textContent = words[level];
        chip.className = 'chip ' + level;
        row.querySelector('.said').textContent = said(check, asked, level);
      });
      Object.keys(data.tires).forEach((place) => {
        const plan = data.tires[place];
        const [asked, settled] = worse((other) => wheel(made, plan, other), plan);
        const [text, note, level] = pressure(asked, plan, settled, air());
        seen.push(level);
        const cell = byId('p-' + place);
        cell.textContent = text;
        cell.className = 'pressure ' + level;
        byId('p-' + place + '-note').textContent = note;
      });
      form.dataset.setting = hash();
      const worst = ['over', 'unknown', 'close'].find((level) => seen.includes(level)) || 'within';
      const box = byId('w-verdict');
      const texts = { over: words.some_over, unknown: words.some_unknown, close: words.some_close, within: words.all_within };
      box.textContent = texts[worst];
      box.className = 'w-verdict ' + worst;
      pin(worst, box.textContent, made);
    }

    // The same verdict and the two weights in the bar that stays in sight while a slider moves.
    function pin(worst, text, made) {
      const bar = byId('bar');
      bar.className = 'pinned ' + worst;
      const led = data.checks.find((check) => byId('k-' + check.code).querySelector('.chip').classList.contains(worst));
      byId('w-said').textContent = words[worst].charAt(0).toUpperCase() + words[worst].slice(1) + (worst !== 'within' && led ? ': ' + led.words : '');
      const write = (name, kind) => (made[name] && made[name].value !== null ? show(made[name].value, kind) : '?');
      byId('w-tongue').textContent = write('tongue_weight', 'mass');
      byId('w-share').textContent = words.tongue + ', ' + write('tongue_share', 'fraction');
      byId('w-trailer').textContent = write('trailer_weight', 'mass');
    }

    function start(index) {
      preset = index;
      shares = data.presets[index].shares.slice();
      const before = at;
      at = data.presets[index].at.slice();
      data.controls.forEach((c, i) => { if (c.kind === 'temperature') at[i] = before.length ? before[i] : c.start; });
    }

    // The address carries the setting: #w=c0 is the first loading case, else all positions.
    const number = (v) => (v === null ? '' : String(Math.round(v * 1e4) / 1e4));
    const hash = () => '#w=' + (preset === null ? at.map(number).join(',') : 'c' + preset + ',' + at.filter((v, i) => data.controls[i].kind === 'temperature').map(number).join(','));
    const key = 'cardgen-what-if:' + data.rig;
    const save = () => {
      try {
        sessionStorage.setItem(key, hash());
        history.replaceState(null, '', location.pathname + location.search + hash());
      } catch (fault) {
        // some browsers refuse this for local files; the setting then stays on the page
      }
    };
    const before = () => {
      try {
        return sessionStorage.getItem(key) || '';
      } catch (fault) {
        return '';
      }
    };

    function restore(text) {
      const found = /^#w=(.*)$/.exec(text);
      if (!found) return false;
      const parts = decoded(found[1]).split(',');
      const named = /^c(\d{1,3})$/.exec(parts[0]);
      const last = data.controls.length - 1;
      if (named && Number(named[1]) < data.presets.length) {
        start(Number(named[1]));
        if (parts.length > 1) at[last] = clamp(parts[1], last);
        return true;
      }
      if (parts.length !== data.controls.length) return false;
      start(0);
      preset = null;
      at = parts.map((p, i) => clamp(p, i));
      return true;
    }

    function clamp(text, i) {
      const control = data.controls[i];
      const value = Number(text);
      if (text === '' || !Number.isFinite(value)) return control.kind === 'temperature' ? control.start : null;
      if (control.kind === 'switch') return value >= 50 ? 100 : 0;
      const low = control.kind === 'temperature' ? control.low : 0;
      const high = control.kind === 'temperature' ? control.high : 100;
      return Math.min(high, Math.max(low, value));
    }

    inputs.forEach((input, i) => {
      input.addEventListener('input', () => {
        const control = data.controls[i];
        at[i] = control.kind === 'switch' ? (input.checked ? 100 : 0) : Number(input.value);
        if (control.kind !== 'temperature') preset = null;
        render();
        save();
      });
    });
    form.querySelectorAll('[data-preset]').forEach((button) => {
      button.addEventListener('click', () => {
        start(Number(button.dataset.preset));
        render();
        save();
      });
    });
    byId('w-link').addEventListener('click', () => {
      save();
      const address = location.href.split('#')[0] + hash();
      const done = (text) => { byId('w-linked').textContent = text; };
      if (navigator.clipboard) navigator.clipboard.writeText(address).then(() => done(words.copied), () => done(words.not_copied));
      else done(words.not_copied);
    });
    window.addEventListener('hashchange', () => {
      if (restore(location.hash)) render();
      else if (location.hash === '#what-if') save(); // back from another view: the setting is still there
    });
    form.addEventListener('submit', (event) => event.preventDefault());
    start(0);
    if (!/^#w=/.test(location.hash)) restore(before());
    restore(location.hash);
    form.hidden = false;
    render();
  }

  whatIf();
})();
