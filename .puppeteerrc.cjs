// The browser is found at run time (src/report/browser.ts); installing must not try to download one.
module.exports = { skipDownload: true };
