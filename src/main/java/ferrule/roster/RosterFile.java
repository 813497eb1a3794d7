package ferrule.roster;

import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/**
 * A roster as a spreadsheet saves it (CSV, RFC 4180), read into lines. Its first line names the columns: the full name, and
 * if they are there the name to sign in with, the cohort and the role; others are passed over. Commas, semicolons and tabs
 * separate, whichever the first line has most of.
 *
 * @param lines those below the first, without blank ones
 * @param passedOver columns that say nothing here, as the file names them
 * @param problems why it cannot be read; if there are any, there are no lines
 */
public record RosterFile(List<Line> lines, List<String> passedOver, List<Problem> problems) {

  /** The most lines that are taken at once. */
  public static final int MOST_LINES = 5_000;
  /** The most characters that are taken at once. */
  public static final int MOST_CHARACTERS = 500_000;

  /** What a column can say. */
  public enum Column {
    /** The full name; the only one that must be there. */
    NAME("name", Set.of("name", "full name", "fullname", "apprentice", "student", "person")),
    /** What they type to sign in. */
    SIGN_IN("sign-in name", Set.of("sign-in name", "sign in name", "sign-in", "signs in as", "username", "user name", "user",
        "login")),
    /** The title of the cohort that they join. */
    COHORT("cohort", Set.of("cohort", "group", "class", "year")),
    /** "apprentice" or "instructor". */
    ROLE("role", Set.of("role"));

    private final String words;
    private final Set<String> heads;

    Column(String words, Set<String> heads) {
      this.words = words;
      this.heads = heads;
    }

    /** As a problem names it. */
    String words() {
      return words;
    }
  }

  /**
   * What is wrong, and where.
   *
   * @param line counted from 1 with the line of heads
   * @param column counted from 1; 0 if it is the whole line
   */
  public record Problem(int line, int column, String message) {

    /** Such as "Line 4, column 2". */
    public String place() {
      return "Line " + line + (column == 0 ? "" : ", column " + column);
    }
  }

  /**
   * A line, and where each of its columns stands.
   *
   * @param number counted from 1 with the line of heads
   * @param texts what it says, without space around it; nothing blank
   * @param places of the columns that the file has, counted from 1
   */
  public record Line(int number, Map<Column, String> texts, Map<Column, Integer> places) {

    /** What it says in a column, if anything. */
    Optional<String> text(Column column) {
      return Optional.ofNullable(texts.get(column));
    }

    /** A problem in one of its columns. */
    Problem problem(Column column, String message) {
      return new Problem(number, places.getOrDefault(column, 0), message);
    }
  }

  /** Copies the lists. */
  public RosterFile {
    lines = List.copyOf(lines);
    passedOver = List.copyOf(passedOver);
    problems = List.copyOf(problems);
  }

  /** The text of a file's bytes; empty if they are not UTF-8. */
  public static Optional<String> decode(byte[] bytes) {
    try {
      return Optional.of(StandardCharsets.UTF_8.newDecoder()
          .onMalformedInput(CodingErrorAction.REPORT).onUnmappableCharacter(CodingErrorAction.REPORT)
          .decode(ByteBuffer.wrap(bytes)).toString());
    } catch (CharacterCodingException e) {
      return Optional.empty();
    }
  }

  /** Reads a roster; whatever cannot be read is a problem, never an exception. */
  public static RosterFile parse(String text) {
    String plain = text.startsWith("\uFEFF") ? text.substring(1) : text;
    if (plain.isBlank()) {
      return refused(1, 0, "There is nothing in it. The first line names the columns, then comes one person a line.");
    }
    if (plain.length() > MOST_CHARACTERS) {
      return refused(1, 0, "It has more than " + MOST_CHARACTERS + " characters. Split it.");
    }
    CSVFormat format = CSVFormat.RFC4180.builder().setDelimiter(separator(plain)).setIgnoreEmptyLines(false).get();
    try (CSVParser parser = format.parse(new StringReader(plain))) {
      return read(parser);
    } catch (IOException | UncheckedIOException | IllegalStateException e) {
      return refused(1, 0, "It is no table that can be read: a quotation mark is not closed, most likely.");
    }
  }

  private static RosterFile refused(int line, int column, String message) {
    return new RosterFile(List.of(), List.of(), List.of(new Problem(line, column, message)));
  }

  private static char separator(String text) {
    String heads = text.lines().findFirst().orElse("");
    char best = ',';
    for (char candidate : new char[] {';', '\t'}) {
      if (heads.chars().filter(c -> c == candidate).count() > heads.chars().filter(c -> c == ',').count()) {
        best = candidate;
      }
    }
    return best;
  }

  private static RosterFile read(CSVParser parser) {
    Map<Column, Integer> places = new HashMap<>();
    List<String> passedOver = new ArrayList<>();
    List<Problem> problems = new ArrayList<>();
    List<Line> lines = new ArrayList<>();
    long before = 0;
    for (CSVRecord record : parser) {
      int number = (int) before + 1;
      before = parser.getCurrentLineNumber();
      if (record.getRecordNumber() == 1) {
        readHeads(record, places, passedOver, problems);
      } else if (!isBlank(record)) {
        lines.add(line(number, record, places));
      }
    }
    if (lines.size() > MOST_LINES) {
      problems.add(new Problem(MOST_LINES + 2, 0, "It has more than " + MOST_LINES + " people. Split it."));
    }
    if (lines.isEmpty() && problems.isEmpty()) {
      problems.add(new Problem(2, 0, "Nobody is listed below the line of heads."));
    }
    return new RosterFile(problems.isEmpty() ? lines : List.of(), passedOver, problems);
  }

  private static void readHeads(
      CSVRecord heads, Map<Column, Integer> places, List<String> passedOver, List<Problem> problems) {
    for (int i = 0; i < heads.size(); i++) {
      String head = heads.get(i).strip();
      Optional<Column> column = column(head);
      if (column.isEmpty()) {
        if (!head.isEmpty()) {
          passedOver.add(head);
        }
      } else if (places.putIfAbsent(column.get(), i + 1) != null) {
        problems.add(new Problem(1, i + 1, "There is a column for the " + column.get().words() + " already, column "
            + places.get(column.get()) + "."));
      }
    }
    if (!places.containsKey(Column.NAME)) {
      problems.add(new Problem(1, 0, "The first line names the columns, and one of them is “name”; here it says “"
          + String.join("”, “", heads.toList().stream().limit(6).map(String::strip).toList()) + "”."));
    }
  }

  private static Optional<Column> column(String head) {
    String plain = head.toLowerCase(Locale.ROOT).replace('_', ' ').replaceAll("\\s+", " ");
    for (Column column : Column.values()) {
      if (column.heads.contains(plain)) {
        return Optional.of(column);
      }
    }
    return Optional.empty();
  }

  private static boolean isBlank(CSVRecord record) {
    return record.stream().allMatch(String::isBlank);
  }

  private static Line line(int number, CSVRecord record, Map<Column, Integer> places) {
    Map<Column, String> texts = new HashMap<>();
    places.forEach((column, place) -> {
      if (place <= record.size() && !record.get(place - 1).isBlank()) {
        texts.put(column, record.get(place - 1).strip().replaceAll("\\s+", " "));
      }
    });
    return new Line(number, texts, places);
  }
}
