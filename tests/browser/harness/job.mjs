// The steps of the whole job, for tests to walk through.

/// From a fresh phone to the finder.
export const begin = async (phone) => {
  await phone.tap("I have read this");
  await phone.see("Nothing is on the stove");
  await phone.tap("Can something");
  await phone.see("Find a tested process");
};

/// Types the height; where one is kept, its line is opened first.
export const atHeight = async (phone, feet) => {
  if ((await phone.text()).includes("above sea level\nChange")) await phone.tap("above sea level");
  await phone.type("Height above sea level", feet);
};

/// Smoked fish in half-pints at 5,200 ft on a dial gauge: 110 min at 13 psi
/// (USDA Complete Guide to Home Canning, Guide 5, pp. 5-13 and 5-14, 2015).
export const smoked = async (phone) => {
  await phone.tap("lightly smoked");
  await phone.tap("half-pint");
  await phone.tap("Pressure canner, dial gauge");
  await atHeight(phone, "5200");
  await phone.type("What is in the jars", "Smoked whitefish, Lake Ostermere");
  await phone.see("13 psi (90 kPa) on the dial gauge, 4000 to 6000 ft");
  await phone.tap("Start: 110 min at 13 psi");
  await phone.see("Load the canner");
};

/// Every stage of a run in order: what its screen is called, the tap that leaves
/// it, and the minutes to let pass before that tap.
export const stages = [
  { title: "Load the canner", tap: "Heat is on", minutes: 0 },
  { title: "Wait for steady steam", tap: "Steam is steady", minutes: 15 },
  { title: "Vent", tap: "Vent is closed", minutes: 10 },
  { title: "Bring it up to 13 psi", tap: "At 13 psi: start 110 min", minutes: 4 },
  { title: "Hold at 13 psi or a little over", tap: "Heat is off", minutes: 110 },
  { title: "Let it fall on its own", tap: "At zero: weight is off", minutes: 35 },
  { title: "Wait before the lid", tap: "Lid is open", minutes: 10 },
  { title: "Take the jars out", tap: "All jars are out", minutes: 2 },
];

export const rest = { title: "Let the jars rest", minutes: 12 * 60 };

/// Runs the load from one stage to before another.
export const runStages = async (phone, from = 0, to = stages.length) => {
  for (const stage of stages.slice(from, to)) {
    await phone.see(stage.title);
    if (stage.minutes > 0) await phone.pass(stage.minutes);
    await phone.tap(stage.tap);
  }
};
