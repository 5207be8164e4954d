// Stands first: the page as it came, before another script changes anything.
const source = '<!DOCTYPE html>\n' + document.documentElement.outerHTML;
