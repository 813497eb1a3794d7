package ferrule.report.bundle;

import ferrule.competency.AsOf;
import ferrule.ledger.HeadKey;
import ferrule.ledger.SignedHead;
import ferrule.report.table.TableDefinition;
import java.util.stream.Collectors;

/** What stands in a bundle about the bundle. */
final class BundleReadme {

  private BundleReadme() {}

  static String text(String title, AsOf asOf, boolean cohort, SignedHead head, HeadKey key) {
    String tables = BundleTables.ALL.stream().map(BundleReadme::line).collect(Collectors.joining("\n"));
    return """
        Ferrule: accreditation bundle of %s
        ========================================

        Tables and reports speak of the end of %s (%s).
        The log of signed records stood at %d records when this was made.

        What is here
        ------------
        README.txt           this
        report.pdf           the report, for people%s
        data/                the tables; each as .csv (UTF-8), .xlsx (typed cells) and .json
        %s
          dictionary         what each column of each table means
        dictionary.pdf       the same, for people
        %s
        tree-head.json       the head of the log, signed
        seal.json            the SHA-256 of every file here, signed

        How to check it
        ---------------
        With the program, a Java runtime, and nothing of the school:

          java -jar ferrule.jar verify --bundle THIS-FILE.zip --key KEY

        KEY is the school's public key, as you had it from the school another way. The bundle names the key

          %s

        but a bundle made by somebody else would name theirs. The check recomputes the SHA-256 of every file, the
        signature of the seal, and %s.

        What it proves: the files are those that were given out together by whoever holds the key, and the records
        are in the log whose head is named here. What it does not prove: that the tables say the truth about work that
        nobody signed (drills, hours), nor that a PIN was not lent, nor that the work was judged well.
        """.formatted(
        title, asOf.inWords(), asOf.day(), head.head().size(),
        (cohort ? "" : "; the folder reports has one on each cohort")
            + ".\n                     That on a large cohort is in parts, such as report-1.pdf", tables,
        cohort ? "proofs.jsonl         every record about these apprentices, each with the proof that it is in the log"
            : "records.jsonl        the whole log of signed records",
        key.publicKey(),
        cohort ? "the proof of every record" : "the whole log, record by record");
  }

  private static String line(TableDefinition<?> table) {
    return "  " + (table.name() + "                   ").substring(0, 19) + table.row();
  }
}
