/**
 * The usual cautions, wherever work at the machine is asked for. General safety knowledge, from memory; the
 * machine's own manual, the safety data sheet of the toner, local rules and licensed service come first.
 */
export const CAUTIONS: readonly string[] = [
  'The manual of the machine, the safety data sheet of the toner, local rules and licensed service personnel come before anything said here, which is general knowledge, from memory.',
  'Switch off, unplug and let the machine cool as its manual says before reaching inside: the fuser stays hot, parts move, some parts are at high voltage and keep a charge after unplugging. Never defeat an interlock, never look into the laser. No loose hair or clothing at turning parts; two people for a heavy machine.',
  'Toner is a fine dust that can burn: no open flame, no sparks, never compressed air, only a vacuum cleaner made for toner; wipe with a damp cloth.',
  'Wear gloves, and a dust mask where toner is spilt; let in fresh air. Toner on the skin: cold water and soap. In the eyes: take lenses out, rinse at least 15 minutes with the lids open, and see a doctor. Breathed in: go into fresh air. The safety data sheet of the toner says more.',
  'Close the waste container before it is carried or weighed. Never burn waste toner or cartridges: dispose of them as local rules ask.',
];

/** What goes with a change of the waste container; from memory, as the others. */
export const CHANGE_CARE =
  'Care (from memory, the manual of the machine comes first): stop the machine, keep away from hot and turning parts, gloves on; close the full container before you lift it, keep it upright, and never empty it to use it again.';
