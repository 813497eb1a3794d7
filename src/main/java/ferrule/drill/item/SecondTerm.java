package ferrule.drill.item;

import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.TermRole;
import ferrule.naming.Verdict;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.random.RandomGenerator;

/**
 * "Which other name does the trade have for it?", typed. Any trade term of the part counts but the one that is shown,
 * in whatever form its words are written.
 */
public final class SecondTerm implements Writer {

  private final Parts parts;
  private final Kinship kinship;

  /** A writer over these parts. */
  public SecondTerm(Parts parts, Kinship kinship) {
    this.parts = parts;
    this.kinship = kinship;
  }

  @Override
  public List<Topic> topics() {
    return new PartTopics(parts, kinship).where(part -> !others(part.id()).isEmpty());
  }

  /** Trade terms of a part that are more than its preferred term otherwise written: those of its own and of its kinds. */
  List<String> others(ConceptId part) {
    Concept concept = parts.glossary().get(part);
    Set<String> terms = new LinkedHashSet<>(concept.termsIn(TermRole.ALTERNATIVE));
    for (Concept kind : parts.glossary().kindsOf(part)) {
      for (String other : kind.termsIn(TermRole.ALTERNATIVE)) {
        if (concept.term().endsWith(kind.term())) {
          terms.add(concept.term().substring(0, concept.term().length() - kind.term().length()) + other);
        }
      }
    }
    return terms.stream().filter(t -> parts.reader().judge(part, t) instanceof Verdict.RightSynonym).toList();
  }

  @Override
  public Optional<Draft> write(Topic topic, RandomGenerator random) {
    return Optional.of(
        new Draft(
            topic.key(),
            Optional.of(topic.key()),
            new Interaction.TextEntry(
                "The lit part is the " + parts.term(topic.key()) + ". What else does the trade call it?",
                others(topic.key()))));
  }
}
