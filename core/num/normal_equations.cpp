#include "core/num/normal_equations.h"

#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>
#include <algorithm>

#include "core/base/check.h"

namespace spile {

namespace {
using Matrix = Eigen::SparseMatrix<double, Eigen::ColMajor, int>;
/// Eigen's factor, letting out how much it will cost.
struct Ldlt : Eigen::SimplicialLDLT<Matrix, Eigen::Lower, Eigen::AMDOrdering<int>> {
    double work() const {
        double sum = 0;
        for (Eigen::Index c = 0; c < m_nonZerosPerCol.size(); ++c) {
            sum += static_cast<double>(m_nonZerosPerCol[c]) * m_nonZerosPerCol[c];
        }
        return sum;
    }
};
/// A pivot below this share of its diagonal is noise: 2^-43 leaves nine bits of a double.
constexpr double kLeastPivotShare = 1.0 / 8796093022208.0;
}  // namespace

struct NormalEquations::Impl {
    std::size_t size = 0;
    Matrix lower;           // N, lower triangle
    std::vector<int> slot;  // for each pair (a, b <= a) of entries of each row: where it adds in `lower`
    std::vector<int> diagonal_at;
    Ldlt ldlt;
    std::vector<double> unshifted;  // the diagonal before `added`
    // The inverse in the factor's own order: columns as in L, sorted, without the diagonal.
    std::vector<double> inverse_below;
    std::vector<double> inverse_diagonal;

    int find_slot(int row, int col) const {
        const int* begin = lower.innerIndexPtr() + lower.outerIndexPtr()[col];
        const int* end = lower.innerIndexPtr() + lower.outerIndexPtr()[col + 1];
        const int* at = std::lower_bound(begin, end, row);
        SPILE_CHECK(at != end && *at == row);
        return static_cast<int>(at - lower.innerIndexPtr());
    }
};

NormalEquations::NormalEquations(std::size_t parameters, const SparseRows& pattern,
                                 const std::vector<std::pair<int, int>>& wanted)
    : impl_(std::make_unique<Impl>()) {
    impl_->size = parameters;
    const int n = static_cast<int>(parameters);
    std::vector<std::vector<int>> rows_of(parameters);
    for (int i = 0; i < n; ++i) rows_of[i].push_back(i);
    const auto pair = [&](int i, int j) {
        SPILE_CHECK(i >= 0 && j >= 0 && i < n && j < n);
        rows_of[std::min(i, j)].push_back(std::max(i, j));
    };
    for (std::size_t r = 0; r < pattern.rows(); ++r) {
        for (std::size_t a = pattern.start[r]; a < pattern.start[r + 1]; ++a) {
            for (std::size_t b = pattern.start[r]; b < a; ++b) pair(pattern.column[a], pattern.column[b]);
        }
    }
    for (const auto& [i, j] : wanted) pair(i, j);

    Matrix& lower = impl_->lower;
    lower.resize(n, n);
    Eigen::Index entries = 0;
    for (std::vector<int>& col : rows_of) {
        std::sort(col.begin(), col.end());
        col.erase(std::unique(col.begin(), col.end()), col.end());
        entries += static_cast<Eigen::Index>(col.size());
    }
    lower.resizeNonZeros(entries);
    int at = 0;
    for (int c = 0; c < n; ++c) {
        lower.outerIndexPtr()[c] = at;
        for (const int r : rows_of[c]) {
            lower.innerIndexPtr()[at] = r;
            lower.valuePtr()[at++] = 0;
        }
    }
    lower.outerIndexPtr()[n] = at;
    impl_->diagonal_at.resize(parameters);
    for (int c = 0; c < n; ++c) impl_->diagonal_at[c] = lower.outerIndexPtr()[c];
    for (std::size_t r = 0; r < pattern.rows(); ++r) {
        for (std::size_t a = pattern.start[r]; a < pattern.start[r + 1]; ++a) {
            for (std::size_t b = pattern.start[r]; b <= a; ++b) {
                const int i = pattern.column[a];
                const int j = pattern.column[b];
                impl_->slot.push_back(impl_->find_slot(std::max(i, j), std::min(i, j)));
            }
        }
    }
    if (n > 0) impl_->ldlt.analyzePattern(lower);
}

NormalEquations::~NormalEquations() = default;
NormalEquations::NormalEquations(NormalEquations&&) noexcept = default;
NormalEquations& NormalEquations::operator=(NormalEquations&&) noexcept = default;

std::size_t NormalEquations::parameters() const {
    return impl_->size;
}

double NormalEquations::work() const {
    return impl_->size == 0 ? 0 : impl_->ldlt.work();
}

void NormalEquations::form(const SparseRows& rows) {
    double* values = impl_->lower.valuePtr();
    std::fill(values, values + impl_->lower.nonZeros(), 0.0);
    std::size_t k = 0;
    for (std::size_t r = 0; r < rows.rows(); ++r) {
        for (std::size_t a = rows.start[r]; a < rows.start[r + 1]; ++a) {
            for (std::size_t b = rows.start[r]; b <= a; ++b)
                values[impl_->slot[k++]] += rows.value[a] * rows.value[b];
        }
    }
    SPILE_CHECK(k == impl_->slot.size());
    impl_->unshifted.resize(impl_->size);
    for (std::size_t i = 0; i < impl_->size; ++i) impl_->unshifted[i] = values[impl_->diagonal_at[i]];
}

double NormalEquations::diagonal(int parameter) const {
    return impl_->unshifted[parameter];
}

bool NormalEquations::factor(const std::vector<double>& added) {
    SPILE_CHECK(added.empty() || added.size() == impl_->size);
    impl_->inverse_diagonal.clear();
    if (impl_->size == 0) return true;
    double* values = impl_->lower.valuePtr();
    for (std::size_t i = 0; i < impl_->size; ++i) {
        values[impl_->diagonal_at[i]] = impl_->unshifted[i] + (added.empty() ? 0.0 : added[i]);
    }
    impl_->ldlt.factorize(impl_->lower);
    if (impl_->ldlt.info() != Eigen::Success) return false;
    const auto& d = impl_->ldlt.vectorD();
    const auto& place = impl_->ldlt.permutationP().indices();
    for (std::size_t i = 0; i < impl_->size; ++i) {
        const double whole = values[impl_->diagonal_at[i]];
        const double pivot = d[place[static_cast<Eigen::Index>(i)]];
        if (!(whole > 0) || !(pivot > kLeastPivotShare * whole)) return false;
    }
    return true;
}

std::vector<double> NormalEquations::solve(const std::vector<double>& right) const {
    SPILE_CHECK(right.size() == impl_->size);
    std::vector<double> out(impl_->size);
    if (impl_->size == 0) return out;
    const Eigen::Map<const Eigen::VectorXd> b(right.data(), static_cast<Eigen::Index>(right.size()));
    Eigen::Map<Eigen::VectorXd>(out.data(), static_cast<Eigen::Index>(out.size())) = impl_->ldlt.solve(b);
    return out;
}

void NormalEquations::invert_within_pattern() {
    const int n = static_cast<int>(impl_->size);
    impl_->inverse_diagonal.assign(impl_->size, 0);
    if (n == 0) return;
    const auto& l = impl_->ldlt.matrixL().nestedExpression();
    const auto& d = impl_->ldlt.vectorD();
    const int* outer = l.outerIndexPtr();
    const int* inner = l.innerIndexPtr();
    const double* lv = l.valuePtr();
    std::vector<double>& z = impl_->inverse_below;
    z.assign(static_cast<std::size_t>(outer[n]), 0);
    std::vector<double>& zd = impl_->inverse_diagonal;
    std::vector<int> in_column(impl_->size, -1);  // place of a row in the column at hand
    // Z = D^-1 L^-1 + (I - L^T) Z, taken from the last column to the first; every entry needed is in the
    // pattern.
    for (int j = n - 1; j >= 0; --j) {
        for (int p = outer[j]; p < outer[j + 1]; ++p) in_column[inner[p]] = p;
        for (int p = outer[j]; p < outer[j + 1]; ++p) {
            const int k = inner[p];
            z[p] -= lv[p] * zd[k];
            for (int q = outer[k]; q < outer[k + 1]; ++q) {
                const int t = in_column[inner[q]];
                if (t < 0) continue;
                z[t] -= lv[p] * z[q];
                z[p] -= lv[t] * z[q];
            }
        }
        double diagonal = 1 / d[j];
        for (int p = outer[j]; p < outer[j + 1]; ++p) diagonal -= lv[p] * z[p];
        zd[j] = diagonal;
        for (int p = outer[j]; p < outer[j + 1]; ++p) in_column[inner[p]] = -1;
    }
}

double NormalEquations::inverse(int i, int j) const {
    SPILE_CHECK(impl_->inverse_diagonal.size() == impl_->size);
    const auto& place = impl_->ldlt.permutationP().indices();
    const int a = std::max(place[i], place[j]);
    const int b = std::min(place[i], place[j]);
    if (a == b) return impl_->inverse_diagonal[a];
    const auto& l = impl_->ldlt.matrixL().nestedExpression();
    const int* begin = l.innerIndexPtr() + l.outerIndexPtr()[b];
    const int* end = l.innerIndexPtr() + l.outerIndexPtr()[b + 1];
    const int* at = std::lower_bound(begin, end, a);
    SPILE_CHECK(at != end && *at == a);
    return impl_->inverse_below[at - l.innerIndexPtr()];
}

std::vector<double> transposed_times(const SparseRows& rows, const std::vector<double>& right,
                                     std::size_t parameters) {
    SPILE_CHECK(right.size() == rows.rows());
    std::vector<double> out(parameters, 0);
    for (std::size_t r = 0; r < rows.rows(); ++r) {
        for (std::size_t k = rows.start[r]; k < rows.start[r + 1]; ++k)
            out[rows.column[k]] += rows.value[k] * right[r];
    }
    return out;
}

}  // namespace spile
