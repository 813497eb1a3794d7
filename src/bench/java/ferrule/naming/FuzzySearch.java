package ferrule.naming;

import ferrule.glossary.ConceptId;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Optional;
import org.apache.lucene.analysis.standard.StandardAnalyzer;
import org.apache.lucene.document.Document;
import org.apache.lucene.document.Field;
import org.apache.lucene.document.StoredField;
import org.apache.lucene.document.TextField;
import org.apache.lucene.index.DirectoryReader;
import org.apache.lucene.index.IndexWriter;
import org.apache.lucene.index.IndexWriterConfig;
import org.apache.lucene.index.Term;
import org.apache.lucene.search.BooleanClause;
import org.apache.lucene.search.BooleanQuery;
import org.apache.lucene.search.FuzzyQuery;
import org.apache.lucene.search.IndexSearcher;
import org.apache.lucene.search.ScoreDoc;
import org.apache.lucene.store.ByteBuffersDirectory;

/**
 * A search engine's way: a fuzzy query for each word of the answer (no edits up to two letters, one up to five, two beyond),
 * the best-scored term, none if two parts share the best score.
 */
final class FuzzySearch {

  private static final String FIELD = "term";

  private final IndexSearcher searcher;

  FuzzySearch(List<Answers.Entry> terms) {
    try {
      ByteBuffersDirectory directory = new ByteBuffersDirectory();
      try (IndexWriter writer = new IndexWriter(directory, new IndexWriterConfig(new StandardAnalyzer()))) {
        for (Answers.Entry term : terms) {
          Document document = new Document();
          document.add(new TextField(FIELD, term.phrase(), Field.Store.NO));
          document.add(new StoredField("part", term.part().value()));
          writer.addDocument(document);
        }
        writer.forceMerge(1);
      }
      this.searcher = new IndexSearcher(DirectoryReader.open(directory));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  Optional<ConceptId> part(String typed) {
    BooleanQuery.Builder query = new BooleanQuery.Builder();
    for (String word : Wording.of(typed).words()) {
      int edits = word.length() <= 2 ? 0 : word.length() <= 5 ? 1 : 2;
      query.add(new FuzzyQuery(new Term(FIELD, word), edits), BooleanClause.Occur.SHOULD);
    }
    try {
      ScoreDoc[] best = searcher.search(query.build(), 2).scoreDocs;
      if (best.length == 0) {
        return Optional.empty();
      }
      Optional<ConceptId> first = Optional.of(part(best[0]));
      boolean shared = best.length > 1 && best[1].score == best[0].score && !part(best[1]).equals(first.get());
      return shared ? Optional.empty() : first;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private ConceptId part(ScoreDoc hit) throws IOException {
    return ConceptId.of(searcher.storedFields().document(hit.doc).get("part"));
  }
}
