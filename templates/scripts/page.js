// What every page of a rig does in the browser: one view at a time, ticks with their time, days as
// of today, a copy that is kept, the borrower's yes. Nothing is sent and nothing is worked out anew.
const rig = (function () {
  'use strict';
  const byId = (id) => document.getElementById(id);
  const all = (query, root) => Array.from((root || document).querySelectorAll(query));
  const read = (id) => {
    const block = byId(id);
    return block ? JSON.parse(block.textContent) : null;
  };
  const data = read('card-data');
  const decoded = (text) => {
    try {
      return decodeURIComponent(text);
    } catch (fault) {
      return text;
    }
  };
  // Storage that may be refused, as in private windows: what is kept then lasts as long as the page.
  const load = (key) => {
    try {
      const kept = JSON.parse(localStorage.getItem(key) || '{}');
      return kept && typeof kept === 'object' && !Array.isArray(kept) ? kept : {};
    } catch (fault) {
      return {};
    }
  };
  const store = (key, value) => {
    try {
      localStorage.setItem(key, JSON.stringify(value));
      return true;
    } catch (fault) {
      return false;
    }
  };
  const DAY = 86400000;
  const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
  const two = (n) => String(n).padStart(2, '0');
  const iso = (when) => when.getFullYear() + '-' + two(when.getMonth() + 1) + '-' + two(when.getDate());
  const words = (day) => {
    const [y, m, d] = day.split('-').map(Number);
    return d + '\u00a0' + months[m - 1] + '\u00a0' + y;
  };
  // Days from a day to today by the phone's calendar.
  const since = (day) => Math.round((Date.parse(iso(new Date())) - Date.parse(day)) / DAY);
  const count = (n, one, many) => n + '\u00a0' + (n === 1 ? one : many || one + 's');
  const ago = (n) => (n === 0 ? 'today' : n > 0 ? count(n, 'day') + ' ago' : 'after today by this phone\u2019s clock');
  // As many of some names, at least one, as a line takes on a phone, and how many there are besides.
  const fitting = (words, names) => {
    for (let few = Math.min(3, names.length); ; few -= 1) {
      const line = words + ': ' + names.slice(0, few).join('; ') + (names.length > few ? ' + ' + (names.length - few) : '');
      if (few === 1 || line.length <= 42) return line;
    }
  };

  // One view at a time; without script, or without views, everything stands there in order.
  const views = all('.view');
  const up = (view) => view.dataset.up || 'home';
  views.forEach((view) => {
    const head = view.querySelector('h2');
    head.tabIndex = -1;
    view.setAttribute('aria-label', head.textContent);
  });
  const apart = document.body.dataset.views === '1';
  let here = null;
  let painted = () => {};

  function target() {
    const name = decoded(location.hash.slice(1));
    const found = name === '' ? null : byId(/^w=/.test(name) ? 'what-if' : name);
    return { found: found, view: found ? found.closest('.view') : null };
  }

  function show(first) {
    const { found, view } = target();
    if (found && found.tagName === 'DETAILS') found.open = true;
    if (!apart) {
      if (found && found.tagName === 'DETAILS') found.scrollIntoView();
      return;
    }
    if (found && !view && !first) return; // the skip link
    const before = here;
    here = view || views[0];
    views.forEach((one) => one.classList.toggle('open', one === here));
    document.documentElement.classList.toggle('deep', here !== views[0]);
    bar();
    ticks.paint();
    if (first && here === views[0]) return;
    if (found && found !== here && here !== views[0]) found.scrollIntoView();
    else if (before !== here) window.scrollTo(0, 0);
    if (!first) (here.querySelector('h2') || here).focus({ preventScroll: true });
  }

  function bar() {
    byId('bar').hidden = here === views[0];
    byId('ask').hidden = true;
    byId('b-back').href = '#' + up(here);
    const inWhatIf = here.id === 'what-if' && byId('w-form') !== null;
    byId('w-pin').hidden = !inWhatIf;
    const lists = Boolean(here.dataset.next) || (up(here) !== 'home' && ticks.boxes(here).length > 0);
    byId('b-next').hidden = !lists;
    byId('b-next').textContent = here.dataset.next ? 'Next list' : 'Done';
  }

  // Ticks carry their time and the revision; after twelve hours, or with a new revision, nothing shows as ticked.
  const ticks = (function () {
    const HALF_DAY = DAY / 2;
    const key = 'cardgen-ticks:' + data.rig + (data.page === 'use' ? '' : ':' + data.page);
    // Lines become boxes to tick; without script they are read and ticked on paper.
    const every = all('.ticklist li').map((line) => {
      const [label, box, text, answer] = [...['label', 'input', 'span'].map((tag) => document.createElement(tag)), line.querySelector('b')];
      box.type = 'checkbox';
      box.dataset.tick = line.dataset.id;
      text.append(...Array.from(line.childNodes).filter((node) => node !== answer));
      label.append(box, text, ...(answer ? [answer] : []));
      line.append(label);
      line.parentNode.classList.add('live');
      return box;
    });
    const name = (box) => box.closest('.view').id + '/' + box.dataset.tick;
    const boxes = (view) => all('[data-tick]', view);
    const critical = (box) => box.closest('li').classList.contains('c');
    let state = load(key);
    const marks = () => (state.t && typeof state.t === 'object' ? state.t : {});
    const save = () => store(key, state);
    const last = () => Math.max(0, Number(state.kept) || 0, ...Object.values(marks()).map((t) => Math.abs(Number(t) || 0)));
    const begun = () => Math.min(...Object.values(marks()).map((t) => Math.abs(Number(t) || 0)));
    const any = () => Object.keys(marks()).length > 0;
    const another = () => any() && state.r !== data.revision;
    const stale = () => any() && (another() || Math.abs(Date.now() - last()) > HALF_DAY);
    const done = (box) => !stale() && marks()[name(box)] > 0;
    const skipped = (box) => !stale() && marks()[name(box)] < 0;
    const clock = (t) => two(new Date(t).getHours()) + ':' + two(new Date(t).getMinutes());
    const moment = (t) => {
      const n = since(iso(new Date(t)));
      return (n === 0 ? 'today' : n === 1 ? 'yesterday' : words(iso(new Date(t)))) + ' ' + clock(t);
    };
    const tally = (group) => {
      const counted = { done: group.filter(done).length, skipped: group.filter(skipped).length };
      counted.left = group.length - counted.done - counted.skipped;
      counted.heavy = group.filter((box) => critical(box) && skipped(box)).length;
      return counted;
    };
    const told = (group) => {
      const c = tally(group);
      const heavy = c.heavy ? ' (' + count(c.heavy, 'heavy box', 'heavy boxes') + ')' : '';
      return c.done + ' done, ' + c.left + ' left' + (c.skipped ? ', ' + c.skipped + ' skipped' + heavy : '');
    };

    function paint() {
      every.forEach((box) => {
        box.checked = done(box);
        box.closest('li').classList.toggle('skipped', skipped(box));
      });
      all('.menu a[href^="#"]').forEach((link) => {
        const group = under(link.getAttribute('href').slice(1));
        const note = link.querySelector('.note');
        if (!group.length || !note) return;
        if (note.dataset.was === undefined) note.dataset.was = note.textContent;
        const c = tally(group);
        note.textContent = c.done + c.skipped ? told(group) : note.dataset.was;
        link.classList.toggle('heavy', c.heavy > 0);
      });
      head();
      painted();
    }

    // The boxes of a view and of the lists below it.
    function under(id) {
      return views.filter((view) => view.id === id || up(view) === id).flatMap(boxes);
    }

    function head() {
      const box = byId('trip');
      const where = apart ? here : (every[0] && every[0].closest('.view'));
      const group = where ? (apart ? under(where.id) : every) : [];
      const empty = !any() && !state.undo;
      box.hidden = !group.length || (apart && where === views[0]) || empty;
      if (byId('b-count')) byId('b-count').textContent = apart && boxes(where).length ? tallied(boxes(where)) : '';
      if (box.hidden) return;
      const above = where.querySelector('.hint') || where.querySelector('h2');
      if (above.nextElementSibling !== box) above.after(box);
      const old = stale();
      box.dataset.state = old ? 'old' : 'now';
      let text = any() ? 'Started ' + moment(begun()) + '. ' + told(group) + '.' : 'Cleared.';
      if (old) {
        text = another()
          ? 'These ticks are from revision ' + state.r + ', this page is revision ' + data.revision + '.'
          : 'These ticks are from ' + moment(last()) + '.';
        text += ' Nothing is ticked for this trip. Same trip, or start again?';
      }
      byId('t-said').textContent = text;
      byId('t-clear').hidden = !any();
      byId('t-clear').textContent = old ? 'Clear them and start' : 'Clear all ticks';
      byId('t-clear').classList.toggle('first', old);
      byId('t-same').hidden = !old;
      byId('t-undo').hidden = !state.undo || old;
    }

    const tallied = (group) => {
      const c = tally(group);
      return c.done + ' of ' + group.length + (c.skipped ? ', ' + c.skipped + ' skipped' : '');
    };

    function clear() {
      if (any()) state = { undo: marks() };
      state.r = data.revision;
    }

    function set(box, value) {
      if (stale()) clear();
      state.t = Object.assign({}, marks());
      if (value) state.t[name(box)] = value * Date.now();
      else delete state.t[name(box)];
      state.r = data.revision;
      save();
    }

    // Going on: a line passed over counts as skipped; a heavy box is asked about first.
    function next() {
      const open = boxes(here).filter((box) => !done(box) && !skipped(box));
      const heavy = open.filter(critical);
      if (heavy.length) {
        ask(heavy, open);
        return;
      }
      pass(open);
    }

    function ask(heavy, open) {
      const box = byId('ask');
      byId('a-said').textContent = count(heavy.length, 'heavy box', 'heavy boxes') + ' still open in this list. Left out, each can by itself kill, injure or lose the trailer:';
      const list = box.querySelector('ul');
      list.replaceChildren(...heavy.map((one) => {
        const line = document.createElement('li');
        line.textContent = one.nextElementSibling.textContent;
        return line;
      }));
      here.append(box);
      box.hidden = false;
      box.focus();
      box.scrollIntoView({ block: 'nearest' });
      byId('a-back').onclick = () => {
        box.hidden = true;
        heavy[0].focus();
      };
      byId('a-on').onclick = () => pass(open, true);
    }

    function pass(open, sure) {
      if (sure || boxes(here).some(done)) open.forEach((box) => set(box, -1));
      location.hash = here.dataset.next || up(here);
    }

    every.forEach((box) => box.addEventListener('change', () => {
      set(box, box.checked ? 1 : 0);
      paint();
    }));
    const press = (id, act) => byId(id) && byId(id).addEventListener('click', () => {
      act();
      save();
      paint();
      (here || document.body).querySelector('h2').focus({ preventScroll: true });
    });
    press('t-clear', clear);
    press('t-same', () => Object.assign(state, { kept: Date.now(), r: data.revision }));
    press('t-undo', () => {
      state = { t: Object.assign({}, state.undo, marks()), kept: Date.now(), r: data.revision };
    });
    if (byId('b-next')) byId('b-next').addEventListener('click', next);
    const again = () => {
      state = load(key);
      if (every.length && (here || !apart)) paint();
    };
    window.addEventListener('storage', again);
    window.addEventListener('pageshow', again);
    document.addEventListener('visibilitychange', () => {
      if (!document.hidden) again();
    });
    return { paint: () => every.length && paint(), boxes: boxes };
  })();

  // How old the page is and what is due, by the phone's own calendar.
  function days() {
    const age = since(data.day);
    byId('age').textContent = ', made ' + ago(age);
    const hint = document.querySelector('#due .hint');
    if (!hint) return;
    if (age < 0) {
      hint.textContent = 'This phone\u2019s clock stands before the day this page was made: what is due is told as of that day.';
      return;
    }
    hint.textContent = 'Compared with today, ' + words(iso(new Date())) + ', by this phone\u2019s clock.';
    const late = [];
    all('#due [data-day]').forEach((row) => {
      const chip = row.querySelector('.chip');
      const n = since(row.dataset.day);
      const over = n > 0 || chip.classList.contains('close');
      const told = Math.abs(n) > 60 ? words(row.dataset.day) : count(Math.abs(n), 'day');
      chip.textContent = n === 0 ? 'due today' : over ? 'overdue ' + (n > 60 ? 'since ' : 'by ') + told : 'due ' + (n < -60 ? 'by ' : 'in ') + told;
      chip.className = 'chip ' + (over ? 'close' : 'within');
      if (over) late.push(row.querySelector('.what').textContent);
    });
    all('.menu a[href="#due"] .note').forEach((note) => { note.textContent = late.length ? late.length + ' overdue today' : 'nothing overdue today'; });
    overdue(late);
  }

  // The line of the verdict that names what is overdue, as of today.
  function overdue(names) {
    const box = byId('verdict');
    const old = box.querySelector('a[href$="#due"]');
    if (!names.length) {
      if (old) old.closest('li').remove();
      return;
    }
    let link = old;
    if (!link) {
      const list = box.querySelector('ul') || box.appendChild(document.createElement('ul'));
      const line = document.createElement('li');
      link = line.appendChild(document.createElement('a'));
      link.href = '#due';
      const after = all('li', list).find((one) => /#(missing|places)$/.test(one.querySelector('a').getAttribute('href')));
      list.insertBefore(line, after || null);
    }
    link.textContent = fitting('Overdue', names);
  }

  // A copy to keep: the page's own source as it came, with the day on which it was kept.
  function keep() {
    const mark = document.querySelector('meta[name="kept"]');
    const save = byId('k-save');
    if (save) {
      save.hidden = false;
      save.addEventListener('click', () => {
        const day = iso(new Date());
        const at = source.indexOf('<body');
        const head = source.slice(0, at).replace(/<meta name="kept"[^>]*>/, '').replace('<meta name="viewport"', '<meta name="kept" content="' + day + '">$&');
        const link = document.createElement('a');
        link.href = URL.createObjectURL(new Blob([head, source.slice(at)], { type: 'text/html' }));
        link.download = data.rig + '-kept-' + day + '.html';
        link.click();
        setTimeout(() => URL.revokeObjectURL(link.href), DAY / 1440);
        byId('k-said').textContent = 'Saved as ' + link.download + '. Look for it in the downloads.';
      });
    }
    if (!mark) return;
    const age = since(mark.content);
    const box = byId('kept');
    box.hidden = false;
    if (age > 60) box.dataset.state = 'old';
    const line = box.appendChild(document.createElement('p'));
    line.textContent = 'This is a copy, kept on ' + words(mark.content) + ', ' + ago(age) + (age > 60 ? '. Look for a newer one.' : '.');
    all('a[href]').forEach((link) => {
      const to = link.getAttribute('href');
      if (/^(#|tel:)/.test(to)) return;
      if (data.base) {
        link.href = data.base + to;
        link.removeAttribute('download');
        return;
      }
      const plain = document.createElement('span');
      plain.className = 'gone';
      plain.append(...link.childNodes, ' (not in this copy)');
      link.replaceWith(plain);
    });
    if (data.base) {
      const link = line.appendChild(document.createElement('a'));
      link.textContent = 'The page it came from';
      link.href = data.base;
      line.insertBefore(document.createTextNode(' '), link);
    }
  }

  // Print shows the open view, with what is folded in it; workings as they stand.
  function printing() {
    let closed = [];
    window.addEventListener('beforeprint', () => {
      closed = apart && here && here !== views[0] ? all('details:not([open])', here) : [];
      closed.forEach((one) => { one.open = true; });
    });
    window.addEventListener('afterprint', () => closed.forEach((one) => { one.open = false; }));
  }

  keep();
  if (apart) document.documentElement.classList.add('apart');
  if (byId('currency').dataset.state === 'current' && !location.hash) {
    const letter = new URLSearchParams(location.search).get('c');
    const view = Object.prototype.hasOwnProperty.call(data.lands, letter) ? data.lands[letter] : '';
    if (view && byId(view)) location.replace('#' + view);
  }
  window.addEventListener('hashchange', () => show(false));
  show(true);
  ticks.paint();
  days();
  document.addEventListener('visibilitychange', () => {
    if (!document.hidden) days();
  });
  printing();
  return { all: all, byId: byId, data: data, decoded: decoded, iso: iso, load: load, read: read, store: store, painted: (act) => { painted = act; } };
})();
