package ferrule.drill;

import java.util.OptionalLong;

/**
 * What an answer counts, and by which rulings.
 *
 * @param outcome what it counts
 * @param rulings how often rulings had been made or taken back by then, as {@link RulingStore#made} tells; empty if no
 *     ruling can bear on the outcome
 */
record Judgement(Outcome outcome, OptionalLong rulings) {}
