/** First of all in the page: its data stand there as JSON, which is read in a moment. */
Object.assign(globalThis, { STANDSTILL_DATA: JSON.parse(document.getElementById('data')?.textContent ?? '') });
