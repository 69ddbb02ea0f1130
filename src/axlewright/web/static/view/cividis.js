// The colour scale: 33 colours at even steps of cividis (Nunez, Anderton, Renslow, PLOS ONE 13 (2018) e0199239), read from
// matplotlib's table. Lightness rises evenly, and it looks much the same to people who cannot tell red from green.
// tests/web/view/test_scale.py compares them.
const HEX = `
00224e 00285b 002e6a 053371 1a386f 273e6e 32436d 3b496c 434e6c 4b546c
535a6d 5a5f6e 61656f 686a71 6f7073 767676 7d7c78 848279 8c8878 938e78
9b9476 a39a74 aba072 b4a76f bcae6c c4b468 cdbb63 d5c25e dec958 e7d150
f0d846 f9e03a fee838`;

/** Colours as [red, green, blue] from 0 to 1, coldest first. */
export const CIVIDIS = HEX.trim().split(/\s+/).map((hex) =>
  [0, 2, 4].map((at) => parseInt(hex.slice(at, at + 2), 16) / 255));
