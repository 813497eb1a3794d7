/**
 * What an apprentice knows: how likely they would name a part now and a week from now, how sure that is, what is worth
 * practising next, and the same for a class. Plain arithmetic over answers; no web, no database.
 *
 * <p>It knows {@code glossary} for the ids of parts. Start at {@link ferrule.drill.known.KnownModel}, which holds the
 * model and its sources; {@link ferrule.drill.known.Knowledge} keeps what follows from a list of answers.
 */
package ferrule.drill.known;
