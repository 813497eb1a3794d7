package ferrule.procedure;

import ferrule.curriculum.Problems;
import ferrule.curriculum.YamlNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** Follows lists of ids in a file to what they stand for, and reports those that lead nowhere. */
final class References {

  private final Problems problems;

  References(Problems problems) {
    this.problems = problems;
  }

  /**
   * What the ids under a key stand for.
   *
   * @param where what an id was expected to be, such as "one of tool-crib.yaml's tools"
   */
  <T> List<T> follow(YamlNode node, String key, Function<String, Optional<T>> find, String where) {
    List<T> found = new ArrayList<>();
    for (YamlNode id : node.list(key)) {
      Optional<T> target = find.apply(id.text());
      target.ifPresentOrElse(
          found::add, () -> problems.add(id.at(), "unknown id '" + id.text() + "'; expected " + where));
    }
    return found;
  }
}
