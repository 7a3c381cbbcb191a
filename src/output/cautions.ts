/**
 * The usual cautions, wherever work at the machine is asked for. They follow public advice on toner dust
 * (cold water, no ordinary vacuum cleaner, no open flame) and common practice; the machine's own manual
 * and licensed service come first.
 */
export const CAUTIONS: readonly string[] = [
  'The manual of the machine, local rules and licensed service personnel come before anything said here.',
  'Switch off, unplug and let the machine cool before reaching inside: the fuser stays hot, parts move, and behind covers there are mains voltage and laser light.',
  'Toner is a fine dust that can burn: no open flame, no sparks, never an ordinary vacuum cleaner, never compressed air; wipe with a damp cloth.',
  'Wear gloves and air the room. Toner on the skin: cold water and soap; in the eyes: rinse for ten minutes and see a doctor.',
  'Close the waste container before it is carried or weighed. Never burn waste toner or cartridges: dispose of them as local rules ask.',
];
