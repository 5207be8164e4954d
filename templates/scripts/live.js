// Added by the preview server only: waits for the next version and loads the page anew.
(function () {
  'use strict';
  const here = document.documentElement.dataset.version || '0';
  const wait = () => fetch('/-/next?v=' + here, { cache: 'no-store' })
    .then((answer) => answer.text())
    .then((text) => (text === here ? wait() : location.reload()))
    .catch(() => setTimeout(wait, 1000));
  wait();
})();
