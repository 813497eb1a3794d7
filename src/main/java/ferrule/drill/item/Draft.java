package ferrule.drill.item;

import ferrule.glossary.ConceptId;
import java.util.Optional;

/**
 * A question before it has a place in a drill and a drawing.
 *
 * @param key the part that is the right answer, or that the question is about where the answer is no part
 * @param lit the part that the drawing lights, if the question has a drawing and it lights one
 * @param interaction how it is answered
 */
public record Draft(ConceptId key, Optional<ConceptId> lit, Interaction interaction) {}
