package ferrule.competency;

import ferrule.bench.Standing;
import ferrule.bench.Task;
import ferrule.bench.TaskBook;
import ferrule.bench.TaskId;
import ferrule.curriculum.Curriculum;
import ferrule.curriculum.Problems;
import ferrule.curriculum.YamlNode;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.Level;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;

/** Reads {@code programme.yaml}. */
public final class ProgrammeReader {

  /** Where a curriculum has its programme. */
  static final String FILE = "programme.yaml";

  private final Subjects subjects;
  private final Problems problems;
  private final Set<String> ids = new HashSet<>();
  private final Map<String, YamlNode> competencies = new HashMap<>();

  /** What rules are about, and what it is called. */
  private interface Subjects {

    Optional<String> task(String id);

    Optional<String> assembly(String id);

    /** How many parts of an assembly can be named. */
    int parts(String assembly);
  }

  private ProgrammeReader(Subjects subjects, Problems problems) {
    this.subjects = subjects;
    this.problems = problems;
  }

  /**
   * The programme; empty if it has a fault, which is then among the problems.
   *
   * @param tasks that its rules name
   * @param glossaries whose assemblies its rules name
   */
  public static Optional<Programme> read(
      Curriculum curriculum, TaskBook tasks, Collection<Glossary> glossaries, Problems problems) {
    Problems own = new Problems();
    Optional<Programme> programme = read(curriculum, new Present(tasks, glossaries), own);
    own.all().forEach(p -> problems.add(p.at(), p.message()));
    return own.isEmpty() ? programme : Optional.empty();
  }

  /**
   * An edition of the programme that was kept, whatever has become of the tasks and assemblies that it names.
   *
   * @param text as it was written
   * @param titles of the tasks and assemblies that it names, by id
   * @throws IllegalArgumentException if the text is not a programme
   */
  public static Programme kept(String text, Map<String, String> titles) {
    Problems problems = new Problems();
    return read(Curriculum.of(Map.of(FILE, text)), new Past(titles), problems)
        .filter(p -> problems.isEmpty())
        .orElseThrow(() -> new IllegalArgumentException("a kept programme cannot be read: " + problems.all()));
  }

  private static Optional<Programme> read(Curriculum curriculum, Subjects subjects, Problems problems) {
    ProgrammeReader reader = new ProgrammeReader(subjects, problems);
    return curriculum.read(FILE, "programme", problems)
        .flatMap(root -> reader.programme(root, curriculum.text(FILE).orElseThrow()));
  }

  /** The tasks and glossaries of today. */
  private record Present(TaskBook tasks, Collection<Glossary> glossaries) implements Subjects {

    @Override
    public Optional<String> task(String id) {
      return tasks.find(TaskId.of(id)).map(Task::title);
    }

    @Override
    public Optional<String> assembly(String id) {
      return glossaries.stream().flatMap(g -> g.find(ConceptId.of(id)).stream())
          .filter(c -> c.level() == Level.ASSEMBLY).findFirst().map(Concept::term);
    }

    @Override
    public int parts(String assembly) {
      ConceptId id = ConceptId.of(assembly);
      return glossaries.stream().filter(g -> g.find(id).isPresent()).findFirst()
          .map(g -> (int) g.allWithin(id).stream().filter(Concept::isNameable).count()).orElse(0);
    }
  }

  /** What was kept beside an older edition. */
  private record Past(Map<String, String> titles) implements Subjects {

    @Override
    public Optional<String> task(String id) {
      return Optional.ofNullable(titles.get(id));
    }

    @Override
    public Optional<String> assembly(String id) {
      return Optional.ofNullable(titles.get(id));
    }

    @Override
    public int parts(String assembly) {
      return Integer.MAX_VALUE; // it was checked when it was new
    }
  }

  private Optional<Programme> programme(YamlNode root, String text) {
    root.list("areas").forEach(a -> a.list("competencies").forEach(c -> competencies.putIfAbsent(c.text("id"), c)));
    List<Area> areas = new ArrayList<>();
    for (YamlNode node : root.list("areas")) {
      requireNewId(node);
      List<Competency> read = new ArrayList<>();
      node.list("competencies").forEach(c -> competency(c).ifPresent(read::add));
      areas.add(new Area(node.text("id"), node.text("title"), read));
    }
    refuseCircles(areas);
    String edition = Curriculum.of(Map.of(FILE, text)).edition();
    return problems.isEmpty() ? Optional.of(new Programme(root.text("id"), root.text("title"), edition, text, areas))
        : Optional.empty();
  }

  private void requireNewId(YamlNode node) {
    if (!ids.add(node.text("id"))) {
      problems.add(node.keyAt("id"), "id '" + node.text("id") + "' stands twice; expected another id");
    }
  }

  private void refuseCircles(List<Area> areas) {
    Programme.circle(areas.stream().flatMap(a -> a.competencies().stream()).toList()).ifPresent(circle ->
        problems.add(
            competencies.get(circle.get(0)).keyAt("requires"),
            "competencies come first in a circle: " + String.join(", then ", circle) + ", then " + circle.get(0)
                + "; expected that at least one of them asks for none of the others"));
  }

  private Optional<Competency> competency(YamlNode node) {
    requireNewId(node);
    OptionalInt week = node.has("week") ? OptionalInt.of((int) node.number("week")) : OptionalInt.empty();
    return requirement(node.get("requires").orElseThrow())
        .map(r -> new Competency(node.text("id"), node.text("title"), node.text("says"), week, r));
  }

  private Optional<Requirement> requirement(YamlNode node) {
    Map.Entry<String, YamlNode> rule = node.entries().entrySet().iterator().next();
    YamlNode body = rule.getValue();
    return switch (rule.getKey()) {
      case "all" -> parts(body).map(Requirement.AllOf::new);
      case "any" -> parts(body).map(parts -> new Requirement.AtLeast(1, parts));
      case "at-least" -> atLeast(body);
      case "signed" -> signed(body);
      case "names" -> names(body);
      case "known" -> known(body);
      case "hours" -> Optional.of(new Requirement.Hours((int) body.number("at-least"), span(body, "not-older-than")));
      default -> holds(body);
    };
  }

  private Optional<List<Requirement>> parts(YamlNode list) {
    List<Requirement> parts = new ArrayList<>();
    list.items().forEach(item -> requirement(item).ifPresent(parts::add));
    return parts.size() == list.items().size() ? Optional.of(parts) : Optional.empty();
  }

  private Optional<Requirement> atLeast(YamlNode body) {
    int n = (int) body.number("n");
    int size = body.list("of").size();
    if (n > size) {
      problems.add(body.keyAt("n"), "at least " + n + " of " + size + " cannot be reached; expected 1 to " + size);
      return Optional.empty();
    }
    return parts(body.get("of").orElseThrow()).map(parts -> new Requirement.AtLeast(n, parts));
  }

  private Optional<Requirement> signed(YamlNode body) {
    String id = body.text("task");
    Optional<String> title = subjects.task(id);
    if (title.isEmpty()) {
      problems.add(body.get("task").orElseThrow().at(),
          "no task has the id '" + id + "'; expected one of the instruments' tasks");
    }
    Counting counting = new Counting(
        body.optionalText("counting").map(Counting.Order::parse).orElse(Counting.Order.BEST), span(body, "within"),
        span(body, "not-older-than"));
    return title.map(t -> new Requirement.Signed(
        TaskId.of(id), t, body.optionalText("standing").map(Standing::parse).orElse(Standing.SOUND),
        count(body, "times"), count(body, "instruments"), count(body, "instructors"), counting));
  }

  private static int count(YamlNode body, String key) {
    return (int) body.optionalNumber(key).orElse(1);
  }

  private static Optional<Span> span(YamlNode body, String key) {
    return body.optionalText(key).map(Span::parse);
  }

  private Optional<Requirement> names(YamlNode body) {
    return assembly(body)
        .map(term -> new Requirement.Names(ConceptId.of(body.text("assembly")), term, (int) body.number("percent")));
  }

  private Optional<Requirement> known(YamlNode body) {
    int percent = (int) body.number("sure-percent");
    Optional<String> term = assembly(body);
    int parts = term.isPresent() ? subjects.parts(body.text("assembly")) : 0;
    double most = PartsNamed.sure(Math.min(parts, 1_000), Math.min(parts, 1_000));
    if (term.isPresent() && most < percent / 100.0) {
      problems.add(body.keyAt("sure-percent"),
          "even all " + parts + " parts named right make only " + (int) (100 * most) + " % sure; expected at most that");
      return Optional.empty();
    }
    return term.map(t -> new Requirement.Known(ConceptId.of(body.text("assembly")), t, percent));
  }

  private Optional<String> assembly(YamlNode body) {
    Optional<String> term = subjects.assembly(body.text("assembly"));
    if (term.isEmpty()) {
      problems.add(body.get("assembly").orElseThrow().at(),
          "no glossary has an assembly '" + body.text("assembly") + "'; expected the id of an assembly");
    }
    return term;
  }

  private Optional<Requirement> holds(YamlNode body) {
    String id = body.text();
    Optional<String> title = Optional.ofNullable(competencies.get(id)).map(c -> c.text("title"));
    if (title.isEmpty()) {
      problems.add(body.at(), "no competency has the id '" + id + "'; expected one of this programme");
    }
    return title.map(t -> new Requirement.Holds(id, t));
  }
}
