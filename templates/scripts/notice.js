// Does the printed card that led here still hold, and what is its holder told?
// Address: ?c=<letter>&r=<revision>&f=<mark>; cards of an earlier cardgen have no mark.
(function () {
  'use strict';
  const asked = new URLSearchParams(location.search);
  const block = document.getElementById('card-data');
  const box = document.getElementById('currency');
  const letter = asked.get('c');
  if (!block || !box || letter === null) return;
  const data = JSON.parse(block.textContent);
  const say = (tag, text, parent) => {
    const made = document.createElement(tag);
    made.textContent = text;
    (parent || box).appendChild(made);
    return made;
  };
  const listed = (lines) => {
    const list = say('ul', '');
    lines.forEach((line) => say('li', line, list));
  };
  const card = Object.prototype.hasOwnProperty.call(data.cards, letter) ? data.cards[letter] : null;
  const number = /^[0-9]{1,6}$/.test(asked.get('r') || '') ? Number(asked.get('r')) : null;
  const mark = /^[0-9a-f]{6}$/.test(asked.get('f') || '') ? asked.get('f') : '';
  const title = card ? card.title : 'Card';
  const name = title + (number === null ? '' : ', revision ' + number) + (mark ? '-' + mark : '');

  function judge() {
    if (!card) return 'gone';
    if (mark && card.mark && mark === card.mark) return 'current';
    if (number === null) return 'unreadable';
    if (number > data.revision) return 'newer';
    if (mark && card.mark) return 'old';
    return number >= card.changed ? 'current' : 'old';
  }

  // The print that is held: by its mark, else by the revision that made it.
  function held() {
    const exact = mark ? card.prints.find((print) => print.mark === mark) : null;
    return exact || card.prints.find((print) => print.n <= number && !(mark && print.mark)) || null;
  }

  function offer() {
    if (!card || !card.href) return;
    say('a', 'Open the current ' + title.toLowerCase(), say('p', '')).href = card.href;
  }

  function old() {
    const print = held();
    say('h2', 'Do not use this card any more');
    say('p', name + (print ? ' of ' + print.date : '') + ', is out of date.');
    if (print && print.lines.length) {
      say('p', 'What is different now:');
      listed(print.lines);
    } else {
      say('p', 'What is different is not recorded here: use none of its numbers.');
    }
    if (print && print.causes.length) {
      say('p', 'What changed on the rig:');
      listed(print.causes);
    }
    offer();
  }

  function settle(verdict) {
    if (verdict === 'current') {
      if (data.over.length) say('h2', 'Do not tow');
      const behind = document.getElementById('behind');
      say('p', name + (behind ? ': as current as this page, which is behind the rig.' : ': this card is current.'));
    } else if (verdict === 'old') {
      old();
    } else if (verdict === 'gone') {
      say('h2', 'This card is no longer made');
      say('p', 'Do not use it. The cards that hold are offered on this page.');
    } else if (verdict === 'newer') {
      say('h2', 'This page is older than your card');
      say('p', name + ' was printed after this page was made, or by somebody else. Ask the owner which of the two holds, and until then use neither where they differ.');
    } else {
      say('p', title + ': its revision cannot be read from the address. Compare the revision printed on it with the list of cards on this page.');
      offer();
    }
    if (data.over.length) {
      say('p', 'Do not tow as described:');
      listed(data.over);
    }
    const today = new Date();
    const day = [today.getFullYear(), today.getMonth() + 1, today.getDate()].map((n) => String(n).padStart(2, '0')).join('-');
    if (data.until && day >= data.until[0]) {
      say('p', 'What is due and how old tires are was reckoned on ' + data.reckoned + ' and held until ' + data.until[1] + ': ask the owner for a newer page.');
    }
  }

  const verdict = judge();
  box.hidden = false;
  const states = { current: 'current', old: 'old', gone: 'old', newer: 'unknown', unreadable: 'unknown' };
  box.dataset.state = verdict === 'current' && data.over.length ? 'over' : states[verdict];
  if (verdict === 'current' && document.getElementById('behind')) box.dataset.state = 'unknown';
  settle(verdict);
})();
