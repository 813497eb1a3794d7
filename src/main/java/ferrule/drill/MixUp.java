package ferrule.drill;

import ferrule.glossary.ConceptId;

/**
 * One part taken for another.
 *
 * @param asked the part that was lit or named
 * @param takenFor the part that was named or pointed at instead
 * @param times how often
 * @param people by how many apprentices
 */
public record MixUp(ConceptId asked, ConceptId takenFor, int times, int people) {}
