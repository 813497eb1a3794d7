package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.util.UUID;

/**
 * An answer that counts otherwise since a ruling, which its apprentice has not read yet.
 *
 * @param regrade the id of the regrade
 * @param part the part that was asked for
 * @param typed what was answered
 * @param before what it counted before
 * @param now what it counts now
 */
public record Change(UUID regrade, ConceptId part, String typed, double before, Outcome now) {}
