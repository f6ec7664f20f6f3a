// A phone that holds a household's record from the start.
import { serve } from "../../../.ci/serve.mjs";
import { Phone } from "./browser.mjs";
import { dist } from "./builds.mjs";
import { fill } from "./pantry.mjs";

/// A phone that has read the safety page and holds these rows, opened without the host.
export const stocked = async (rows) => {
  const server = await serve(dist, 0, "/");
  const phone = await Phone.open(server.address);
  await phone.tap("I have read this");
  await phone.see("Nothing is on the stove");
  await fill(phone, rows);
  await phone.kept();
  await server.stop();
  await phone.load();
  return phone;
};
