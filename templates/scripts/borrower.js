// Added to the borrower's page.
(function () {
  'use strict';
  const { all, byId, data, iso, load, store } = rig;

  // The borrower's yes: shown, printed, kept here or handed to the phone's share sheet, each by a press.
  function confirm() {
    const form = byId('c-form');
    const key = 'cardgen-yes:' + data.rig;
    const shown = all('#confirm [data-tick]');
    const [seen, who, day, tell, said] = ['c-seen', 'c-name', 'c-date', 'c-tell', 'c-said'].map(byId);
    const kept = load(key);
    const mine = kept.r === data.revision;
    [[seen, 'seen'], [who, 'who'], [day, 'day']].forEach(([field, name]) => { field.value = mine && typeof kept[name] === 'string' ? kept[name] : ''; });
    if (!day.value) day.value = iso(new Date());
    const ready = () => { tell.disabled = !(shown.every((box) => box.checked) && who.value.trim() && day.value); };
    const sentence = () => data.nickname + ', revision ' + data.revision + ': I was shown how to couple, load and tow it and have understood. '
      + (seen.value.trim() ? 'Seen: ' + seen.value.trim() + '. ' : '') + who.value.trim() + ', ' + day.value;
    form.querySelector('.buttons').hidden = false;
    form.addEventListener('submit', (event) => event.preventDefault());
    form.addEventListener('input', ready);
    rig.painted(ready);
    tell.addEventListener('click', () => {
      const text = sentence();
      const copied = () => { said.textContent = 'Copied. Paste it into a message to the owner: ' + text; };
      const plain = () => { said.textContent = 'Write this to the owner: ' + text; };
      if (navigator.share) navigator.share({ text: text }).then(() => { said.textContent = 'Handed on.'; }, plain);
      else if (navigator.clipboard) navigator.clipboard.writeText(text).then(copied, plain);
      else plain();
    });
    byId('c-keep').addEventListener('click', () => {
      const done = store(key, { r: data.revision, seen: seen.value, who: who.value, day: day.value });
      said.textContent = done ? 'Kept in this browser.' : 'This browser keeps nothing: print it or tell the owner.';
    });
    byId('c-print').addEventListener('click', () => window.print());
    ready();
  }

  confirm();
})();
