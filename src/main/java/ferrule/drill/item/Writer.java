package ferrule.drill.item;

import java.util.List;
import java.util.Optional;
import java.util.random.RandomGenerator;

/** Writes the items of one kind. The same topic and the same random numbers give the same item. */
public interface Writer {

  /** All that it can ask about, in a fixed order. */
  List<Topic> topics();

  /** An item about a topic; empty if these random numbers yield none, so that another topic must be taken. */
  Optional<Draft> write(Topic topic, RandomGenerator random);
}
