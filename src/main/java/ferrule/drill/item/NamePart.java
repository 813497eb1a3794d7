package ferrule.drill.item;

import java.util.List;
import java.util.Optional;
import java.util.random.RandomGenerator;

/** "What is the lit part called?", typed. */
public final class NamePart implements Writer {

  private final PartTopics topics;

  /** A writer over these parts. */
  public NamePart(Parts parts, Kinship kinship) {
    this.topics = new PartTopics(parts, kinship);
  }

  @Override
  public List<Topic> topics() {
    return topics.where(part -> true);
  }

  @Override
  public Optional<Draft> write(Topic topic, RandomGenerator random) {
    return Optional.of(
        new Draft(topic.key(), Optional.of(topic.key()), new Interaction.TextEntry("", List.of())));
  }
}
