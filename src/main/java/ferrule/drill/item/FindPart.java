package ferrule.drill.item;

import java.util.List;
import java.util.Optional;
import java.util.random.RandomGenerator;

/** "Find the third slide crook": pointed at on the drawing. */
public final class FindPart implements Writer {

  private final PartTopics topics;

  /** A writer over these parts. */
  public FindPart(Parts parts, Kinship kinship) {
    this.topics = new PartTopics(parts, kinship);
  }

  @Override
  public List<Topic> topics() {
    return topics.where(part -> true);
  }

  @Override
  public Optional<Draft> write(Topic topic, RandomGenerator random) {
    return Optional.of(new Draft(topic.key(), Optional.empty(), new Interaction.Hotspot("")));
  }
}
