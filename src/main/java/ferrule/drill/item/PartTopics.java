package ferrule.drill.item;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import java.util.List;
import java.util.Set;
import java.util.function.Predicate;

/** Topics that are parts, and what makes a part hard. */
final class PartTopics {

  // our own estimates, no source: they only need to order parts until the answers of apprentices say better
  private static final double FOR_EACH_WORD = 0.12;
  private static final double FOR_LOOK_ALIKES = 0.15;
  private static final double FOR_SMALLNESS = 0.15;
  private static final int USUAL_WORDS = 4;
  private static final int USUAL_LOOK_ALIKES = 4;
  private static final double USUAL_AREA = 1500;

  private final Parts parts;
  private final Kinship kinship;

  PartTopics(Parts parts, Kinship kinship) {
    this.parts = parts;
    this.kinship = kinship;
  }

  /** A topic for each part that can be asked for and passes. */
  List<Topic> where(Predicate<Concept> passes) {
    return parts.concepts().stream().filter(passes).map(c -> of(c.id())).toList();
  }

  /** The topic of a part, which is asked for once in a drill, in whatever way. */
  Topic of(ConceptId part) {
    ConceptId home = parts.seen(part).map(Parts.Seen::home).orElse(part);
    return new Topic(part, part.value(), part.value(), Set.of(home), hardness(part));
  }

  /**
   * How hard a part is by its structure: the more words its name has, the more parts are like it and the smaller it is
   * drawn, the harder.
   */
  double hardness(ConceptId part) {
    int words = parts.term(part).split(" ").length;
    double area = parts.seen(part).map(Parts.Seen::area).orElse(USUAL_AREA);
    return FOR_EACH_WORD * (words - USUAL_WORDS)
        + FOR_LOOK_ALIKES * (Math.log1p(kinship.lookAlikes(part)) - Math.log1p(USUAL_LOOK_ALIKES))
        + FOR_SMALLNESS * (Math.log(USUAL_AREA) - Math.log(area));
  }
}
