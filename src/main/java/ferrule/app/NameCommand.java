package ferrule.app;

import ferrule.curriculum.Problems;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.GlossaryReader;
import ferrule.naming.Reading;
import ferrule.naming.TermReader;
import ferrule.naming.TradeTerms;
import ferrule.naming.Verdict;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Judges typed part names from standard input, or lists the parts with their terms. */
@Command(
    name = "name",
    mixinStandardHelpOptions = true,
    description = {
      "Reads lines of a part id, a tab and a typed answer, and prints for each line the verdict, the part or parts that "
          + "the answer picks out, and an explanation, with tabs between them.",
      "With an empty part id it prints which part or parts the answer picks out."
    })
final class NameCommand implements Callable<Integer> {

  private static final int PROBLEMS_FOUND = 1;
  private static final int NOT_UNDERSTOOD = 1;

  @Spec private CommandSpec spec;
  @Mixin private CurriculumOption curriculumOption;

  @Option(
      names = "--glossary",
      paramLabel = "INSTRUMENT",
      defaultValue = "trumpet",
      description = "The instrument whose names are meant (default: ${DEFAULT-VALUE}).")
  private String instrument;

  @Option(
      names = "--list",
      description = "Print each part's id, its preferred term and its other terms joined by |, with tabs between them.")
  private boolean list;

  @Override
  public Integer call() throws IOException {
    Problems problems = new Problems();
    Optional<Glossary> glossary = GlossaryReader.read(curriculumOption.open(), instrument, problems);
    if (glossary.isEmpty()) {
      problems.all().forEach(spec.commandLine().getErr()::println);
      return PROBLEMS_FOUND;
    }
    // answers and terms are UTF-8 on both sides, whatever the console's own character set
    PrintWriter out = new PrintWriter(System.out, false, StandardCharsets.UTF_8);
    boolean understood = list ? printParts(glossary.get(), out) : judgeLines(TermReader.of(glossary.get()), out);
    out.flush();
    return understood ? 0 : NOT_UNDERSTOOD;
  }

  private static boolean printParts(Glossary glossary, PrintWriter out) {
    for (Concept part : glossary.nameable()) {
      out.println(String.join("\t", part.id().value(), part.term(), String.join("|", TradeTerms.of(glossary, part))));
    }
    return true;
  }

  private static boolean judgeLines(TermReader reader, PrintWriter out) throws IOException {
    BufferedReader in = new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8));
    boolean allKnown = true;
    for (String line = in.readLine(); line != null; line = in.readLine()) {
      int tab = line.indexOf('\t');
      String id = tab < 0 ? "" : line.substring(0, tab).strip();
      String typed = line.substring(tab + 1);
      boolean known = id.isEmpty() || ConceptId.isValid(id) && reader.reads(ConceptId.of(id));
      allKnown &= known;
      out.println(known ? judged(reader, id, typed) : "no-such-part\t\tThe glossary has no part with the id " + id + ".");
    }
    return allKnown;
  }

  private static String judged(TermReader reader, String id, String typed) {
    Reading reading = reader.read(typed);
    List<Concept> read = reading.parts();
    if (id.isEmpty() && read.size() != 1) {
      return String.join("\t", read.isEmpty() ? "unknown" : "too-vague", ids(read), reading.sentence());
    }
    Verdict verdict = reader.judge(id.isEmpty() ? read.get(0).id() : ConceptId.of(id), typed);
    List<Concept> pickedOut = verdict instanceof Verdict.TooVague vague ? vague.fits() : read;
    return String.join("\t", verdict.code(), ids(pickedOut), verdict.sentence());
  }

  private static String ids(List<Concept> parts) {
    return parts.stream().map(part -> part.id().value()).collect(Collectors.joining(","));
  }
}
