// What stands in the measured shelves, in the app's and in the yardstick's alike:
// invented food, invented places.
const NAMES = ["Trout, Lake Ostermere", "Char from the north arm", "Pike, spring net", "Whitefish",
  "Grayling, Tove", "Burbot", "Perch, Anselm's bay"];
const PLACES = ["Cellar, left", "Cellar, right", "Cabin shelf", "Pantry"];
const DAY = 86_400_000;

/// The lot of this number, as of `now`.
export const lot = (number, now) => ({
  content: NAMES[number % 7], place: PLACES[number % 4], lids: "",
  canned: now - (3 + number * 0.4) * DAY,
});
