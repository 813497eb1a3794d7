package ferrule.report;

import ferrule.bench.TaskId;
import ferrule.competency.Programme;
import ferrule.competency.ProgrammeReader;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.stream.Collectors;

/** Random programmes with rules of every sort, written as people write them and read as kept editions are. */
final class RandomProgramme {

  /** How many competencies each has; their ids are {@code c0}, {@code c1} and so on. */
  static final int COMPETENCIES = 8;

  private static final List<String> SPANS = List.of("9 days", "3 weeks", "6 weeks", "2 months", "4 months");

  private final Random random;
  private final List<TaskId> tasks;
  private final List<ConceptId> assemblies;

  private RandomProgramme(Random random, List<TaskId> tasks, List<ConceptId> assemblies) {
    this.random = random;
    this.tasks = tasks;
    this.assemblies = assemblies;
  }

  /** A random programme whose rules name these tasks and assemblies. */
  static Programme of(Random random, List<TaskId> tasks, List<ConceptId> assemblies, String title) {
    Map<String, String> titles = new HashMap<>();
    tasks.forEach(t -> titles.put(t.value(), RandomHistory.TASKS.find(t).orElseThrow().title()));
    assemblies.forEach(a -> titles.put(a.value(), RandomHistory.TRUMPET.get(a).term()));
    return ProgrammeReader.kept(new RandomProgramme(random, tasks, assemblies).text(title), titles);
  }

  private String text(String title) {
    StringBuilder yaml = new StringBuilder("id: random\ntitle: " + title + "\nareas:\n");
    for (int i = 0; i < COMPETENCIES; i++) {
      if (i % 3 == 0) {
        yaml.append("  - id: area-").append(i / 3).append("\n    title: Area ").append(i / 3)
            .append("\n    competencies:\n");
      }
      yaml.append("      - id: c").append(i).append("\n        title: Work of sort ").append(i)
          .append("\n        says: Does work of sort ").append(i).append(".\n");
      if (random.nextInt(4) > 0) {
        yaml.append("        week: ").append(1 + random.nextInt(30)).append('\n');
      }
      yaml.append("        requires: ").append(rule(2, i)).append('\n');
    }
    return yaml.toString();
  }

  private <V> V any(List<V> values) {
    return values.get(random.nextInt(values.size()));
  }

  private String rule(int depth, int mayAskFor) {
    int sort = random.nextInt(depth == 0 ? 10 : 16);
    if (sort == 0) {
      return "{names: {assembly: " + any(assemblies) + ", percent: " + (20 + random.nextInt(80)) + "}}";
    }
    if (sort == 1) {
      return "{known: {assembly: " + any(assemblies) + ", sure-percent: " + (5 + random.nextInt(30)) + "}}";
    }
    if (sort == 2) {
      return "{hours: {at-least: " + (1 + random.nextInt(16)) + span("not-older-than", 2) + "}}";
    }
    if (sort <= 4 && mayAskFor > 0) {
      return "{holds: c" + random.nextInt(mayAskFor) + "}";
    }
    if (sort <= 9) {
      return signed();
    }
    int size = 1 + random.nextInt(3);
    List<String> parts = new ArrayList<>();
    for (int i = 0; i < size; i++) {
      parts.add(rule(depth - 1, mayAskFor));
    }
    String list = parts.stream().collect(Collectors.joining(", ", "[", "]"));
    return sort <= 12 ? "{all: " + list + "}"
        : sort == 13 ? "{any: " + list + "}" : "{at-least: {n: " + (1 + random.nextInt(size)) + ", of: " + list + "}}";
  }

  private String signed() {
    String counting = random.nextBoolean() ? "" : ", counting: " + any(List.of("best", "latest", "consecutive"));
    return "{signed: {task: " + any(tasks) + (random.nextInt(3) == 0 ? ", standing: fine" : "")
        + ", times: " + (1 + random.nextInt(3)) + ", instruments: " + (1 + random.nextInt(2))
        + ", instructors: " + (1 + random.nextInt(2)) + counting + span("within", 5) + span("not-older-than", 4) + "}}";
  }

  private String span(String key, int oneIn) {
    return random.nextInt(oneIn) == 0 ? ", " + key + ": " + any(SPANS) : "";
  }
}
