package ferrule.report.table;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;

/** One value of a table. */
public sealed interface Cell {

  /** The value as a program reads it: ISO 8601 for times, a point in numbers, no grouping. Empty if there is none. */
  String plain();

  /** The value as a person reads it. Empty if there is none. */
  String inWords();

  /** Nothing: what is not known, or does not apply. */
  Cell BLANK = new Blank();

  /** No value. */
  record Blank() implements Cell {
    @Override
    public String plain() {
      return "";
    }

    @Override
    public String inWords() {
      return "";
    }
  }

  /** Words. */
  record Text(String text) implements Cell {
    @Override
    public String plain() {
      return text;
    }

    @Override
    public String inWords() {
      return text;
    }
  }

  /** Yes or no. */
  record Flag(boolean yes) implements Cell {
    @Override
    public String plain() {
      return Boolean.toString(yes);
    }

    @Override
    public String inWords() {
      return yes ? "yes" : "no";
    }
  }

  /** How many of something. */
  record Count(long count) implements Cell {
    @Override
    public String plain() {
      return Long.toString(count);
    }

    @Override
    public String inWords() {
      return String.format(Locale.ENGLISH, "%,d", count);
    }
  }

  /** A part of a whole, from 0 to 1. */
  record Share(double share) implements Cell {

    /** Checks the range. */
    public Share {
      if (!(share >= 0 && share <= 1)) {
        throw new IllegalArgumentException("a share is from 0 to 1; given: " + share);
      }
    }

    @Override
    public String plain() {
      return decimal(share);
    }

    @Override
    public String inWords() {
      return Math.round(100 * share) + " %";
    }
  }

  /** A number in the unit of its column. */
  record Quantity(double number) implements Cell {

    /** Checks that it is finite. */
    public Quantity {
      if (!Double.isFinite(number)) {
        throw new IllegalArgumentException("a number is finite, and left blank if there is none; given: " + number);
      }
    }

    @Override
    public String plain() {
      return decimal(number);
    }

    @Override
    public String inWords() {
      BigDecimal rounded = BigDecimal.valueOf(number).setScale(2, RoundingMode.HALF_UP).stripTrailingZeros();
      return decimal(rounded).replace('-', '−');
    }
  }

  /** A day. */
  record Day(LocalDate day) implements Cell {
    private static final DateTimeFormatter WORDS = DateTimeFormatter.ofPattern("d MMM uuuu", Locale.ENGLISH);

    @Override
    public String plain() {
      return day.toString();
    }

    @Override
    public String inWords() {
      return WORDS.format(day);
    }
  }

  /** A moment, told in UTC. */
  record Moment(Instant at) implements Cell {
    private static final DateTimeFormatter WORDS =
        DateTimeFormatter.ofPattern("d MMM uuuu, HH:mm", Locale.ENGLISH).withZone(ZoneOffset.UTC);

    @Override
    public String plain() {
      return at.toString();
    }

    @Override
    public String inWords() {
      return WORDS.format(at);
    }
  }

  /** A length of time. */
  record Length(Duration length) implements Cell {
    @Override
    public String plain() {
      return length.toString();
    }

    @Override
    public String inWords() {
      long minutes = Math.round(length.toMillis() / 60_000.0);
      long days = minutes / (24 * 60);
      long hours = minutes / 60 % 24;
      long rest = minutes % 60;
      if (days > 0) {
        return days + " d" + (hours > 0 ? " " + hours + " h" : "");
      }
      return hours > 0 ? hours + " h" + (rest > 0 ? " " + rest + " min" : "") : rest + " min";
    }
  }

  private static String decimal(double number) {
    return decimal(BigDecimal.valueOf(number).stripTrailingZeros());
  }

  private static String decimal(BigDecimal number) {
    return number.signum() == 0 ? "0" : number.toPlainString();
  }
}
