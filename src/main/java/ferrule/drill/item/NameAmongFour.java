package ferrule.drill.item;

import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.random.RandomGenerator;

/** "What is the lit part called?", among four names. */
public final class NameAmongFour implements Writer {

  private static final int DISTRACTORS = 3;

  private final Parts parts;
  private final Kinship kinship;

  /** A writer over these parts. */
  public NameAmongFour(Parts parts, Kinship kinship) {
    this.parts = parts;
    this.kinship = kinship;
  }

  @Override
  public List<Topic> topics() {
    return new PartTopics(parts, kinship).where(part -> true);
  }

  @Override
  public Optional<Draft> write(Topic topic, RandomGenerator random) {
    ConceptId key = topic.key();
    Parts.Seen seen = parts.seen(key).orElseThrow();
    List<Kinship.Near> candidates =
        kinship.nearestTo(key).stream()
            .filter(near -> parts.glossary().occursIn(near.part(), seen.variants()))
            .filter(near -> !parts.couldName(key, parts.term(near.part()), seen.among()))
            .filter(near -> !parts.couldName(near.part(), parts.term(key), seen.among()))
            .limit(Kinship.NEAREST)
            .toList();
    List<ConceptId> distractors = Kinship.draw(candidates, DISTRACTORS, random);
    if (distractors.size() < DISTRACTORS) {
      return Optional.empty();
    }
    List<Option> options = new ArrayList<>(distractors.stream().map(d -> Names.option(parts, d, false)).toList());
    options.add(Names.option(parts, key, true));
    return Optional.of(
        new Draft(
            key,
            Optional.of(key),
            new Interaction.Choice("What is the lit part called?", List.of(), Shuffled.of(options, random))));
  }
}
