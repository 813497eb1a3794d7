package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.util.UUID;

/**
 * What an apprentice's first answer to a question counts now.
 *
 * @param person who answered
 * @param kind what was asked for
 * @param part the part that it was asked of
 * @param credit the share of the point, from 0 to 1
 */
public record Scored(UUID person, ItemKind kind, ConceptId part, double credit) {}
